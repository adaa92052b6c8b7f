//! What people say in other languages where amounts are said, besides the English of [`super::spoken`]
//! and [`super::names`]. Words are small and without accents.

use crate::tongue::{Language, spoken};

/// The words of a language.
pub(super) struct Words {
    /// Between two things, and before a half.
    pub(super) and: &'static [&'static str],
    /// Between two things wherever they stand.
    pub(super) plus: &'static [&'static str],
    /// Between two things where a number follows.
    pub(super) to: &'static [&'static str],
    /// The half of "two and a half".
    pub(super) half: &'static [&'static str],
    /// Written otherwise before it is read.
    pub(super) instead: &'static [(&'static str, &'static str)],
    /// Numbers as words.
    pub(super) numbers: &'static [(&'static str, f64)],
    /// What counts one of something, with what that is in English.
    pub(super) measures: &'static [(&'static str, &'static str)],
    /// Between the number and the name.
    pub(super) fillers: &'static [&'static str],
    /// Units that are no parts.
    pub(super) no_parts: &'static [&'static str],
    /// The ground.
    pub(super) ground: &'static [&'static str],
    /// What may stand beside that.
    pub(super) of_ground: &'static [&'static str],
    /// What says no more than which kind.
    pub(super) kind_only: &'static [&'static str],
    /// What is meant by a word alone.
    pub(super) preferred: &'static [(&'static str, &'static str)],
    /// Words without a meaning of their own.
    pub(super) empty: &'static [&'static str],
}

/// Those of the language that is spoken.
pub(super) fn besides() -> &'static Words {
    match spoken() {
        Language::English => &NONE,
        Language::Spanish => &SPANISH,
        Language::French => &FRENCH,
    }
}

static NONE: Words = Words {
    and: &[],
    plus: &[],
    to: &[],
    half: &[],
    instead: &[],
    numbers: &[],
    measures: &[],
    fillers: &[],
    no_parts: &[],
    ground: &[],
    of_ground: &[],
    kind_only: &[],
    preferred: &[],
    empty: &[],
};

#[rustfmt::skip]
static SPANISH: Words = Words {
    and: &["y", "e"],
    plus: &["mas"],
    to: &["a", "con", "por"],
    half: &["medio", "media"],
    instead: &[("por ciento", "%")],
    numbers: &[
        ("un", 1.0), ("uno", 1.0), ("una", 1.0), ("dos", 2.0), ("tres", 3.0), ("cuatro", 4.0),
        ("cinco", 5.0), ("seis", 6.0), ("siete", 7.0), ("ocho", 8.0), ("nueve", 9.0), ("diez", 10.0),
        ("once", 11.0), ("doce", 12.0), ("medio", 0.5), ("media", 0.5), ("mitad", 0.5),
    ],
    measures: &[
        ("parte", "part"), ("partes", "part"), ("cubo", "bucket"), ("cubos", "bucket"),
        ("cubeta", "bucket"), ("cubetas", "bucket"), ("balde", "pail"), ("baldes", "pail"),
        ("carretilla", "barrow"), ("carretillas", "barrow"), ("carretillada", "barrow"),
        ("carretilladas", "barrow"), ("pala", "shovel"), ("palas", "shovel"), ("palada", "shovel"),
        ("paladas", "shovel"),
    ],
    fillers: &[
        "de", "del", "la", "el", "los", "las", "mi", "mis", "nuestra", "nuestro", "un", "una",
    ],
    no_parts: &[
        "kilogramo", "kilogramos", "gramo", "gramos", "tonelada", "toneladas", "libra", "libras",
        "onza", "onzas", "litro", "litros", "galon", "galones", "taza", "tazas", "saco", "sacos",
        "bolsa", "bolsas", "bala", "balas", "yarda", "yardas",
    ],
    ground: &["tierra", "suelo", "arcilla", "barro"],
    of_ground: &[
        "pesada", "pesado", "nativa", "nativo", "huerto", "huerta", "jardin", "bancal", "local",
        "propia", "propio", "vieja", "viejo", "pegajosa", "pegajoso", "roja", "rojo", "azul",
        "amarilla", "amarillo", "parda", "pardo", "marron", "seca", "seco", "mojada", "mojado",
        "humeda", "humedo", "franca", "franco", "arenosa", "arenoso", "limosa", "limoso",
        "arcillosa", "arcilloso", "en", "aqui", "este", "esta", "tu", "nuestra", "nuestro",
    ],
    kind_only: &[
        "fina", "fino", "gruesa", "grueso", "fresca", "fresco", "envejecido", "viejo", "vieja",
        "verde", "expandida", "expandido", "compostada", "compostado", "madera", "pino", "juego",
        "hormigon", "champinon", "vaca", "caballo", "lavada", "obra", "curado", "maduro", "negra",
        "negro", "blanca", "blanco", "oscura", "oscuro", "clara", "claro", "seca", "seco",
        "mojada", "mojado", "humeda", "humedo", "crudo", "cruda", "suelta", "suelto", "jardin",
        "rico", "molida", "molido", "calcinada", "angulosa", "redonda", "cribada", "liquido",
        "para", "en", "resto", "comida", "semilla",
    ],
    preferred: &[
        ("arena", "concrete_sand"), ("gravilla", "pea_gravel"), ("grava", "pea_gravel"),
        ("perlita", "perlite"), ("vermiculita", "vermiculite"), ("pomez", "pumice"),
        ("pizarra", "expanded_shale"), ("biocarbon", "biochar_wood"), ("carbon", "biochar_wood"),
        ("turba", "sphagnum_peat"), ("compost", "yard_compost"), ("composta", "yard_compost"),
        ("estiercol", "cattle_manure"), ("bosta", "cattle_manure"), ("fiemo", "cattle_manure"),
        ("corteza", "pine_bark"), ("yeso", "gypsum"), ("champinon", "smc_fresh"),
        ("vaca", "cattle_manure"), ("obra", "concrete_sand"), ("musgo", "sphagnum_peat"),
        ("lombriz", "vermicompost"), ("humus", "vermicompost"), ("mantillo", "leaf_mold"),
        ("hojarasca", "leaf_mold"), ("ceniza", "wood_ash"), ("aserrin", "sawdust"),
        ("serrin", "sawdust"), ("cal", "lime_calcitic"), ("azufre", "sulfur"), ("paja", "straw"),
    ],
    empty: &[
        "de", "del", "la", "el", "los", "las", "un", "una", "mi", "mis", "y", "algo",
    ],
};

#[rustfmt::skip]
static FRENCH: Words = Words {
    and: &["et"],
    plus: &["plus"],
    to: &["a", "avec", "pour"],
    half: &["demi", "demie"],
    instead: &[("pour cent", "%"), ("d'", "de "), ("l'", "le "), ("demi-", "demi ")],
    numbers: &[
        ("un", 1.0), ("une", 1.0), ("deux", 2.0), ("trois", 3.0), ("quatre", 4.0), ("cinq", 5.0),
        ("six", 6.0), ("sept", 7.0), ("huit", 8.0), ("neuf", 9.0), ("dix", 10.0), ("onze", 11.0),
        ("douze", 12.0), ("demi", 0.5), ("demie", 0.5), ("moitie", 0.5),
    ],
    measures: &[
        ("part", "part"), ("parts", "part"), ("partie", "part"), ("parties", "part"),
        ("seau", "bucket"), ("seaux", "bucket"), ("brouette", "barrow"), ("brouettes", "barrow"),
        ("brouettee", "barrow"), ("brouettees", "barrow"), ("pelle", "shovel"),
        ("pelles", "shovel"), ("pelletee", "shovel"), ("pelletees", "shovel"),
    ],
    fillers: &["de", "du", "des", "la", "le", "les", "mon", "ma", "mes", "notre", "un", "une"],
    no_parts: &[
        "kilogramme", "kilogrammes", "gramme", "grammes", "livre", "livres", "once", "onces",
        "tasse", "tasses", "sac", "sacs", "verge", "verges",
    ],
    ground: &["terre", "sol", "argile"],
    of_ground: &[
        "lourde", "lourd", "jardin", "potager", "planche", "locale", "local", "vieille", "vieux",
        "collante", "collant", "rouge", "bleue", "jaune", "brune", "brun", "seche", "sec",
        "mouillee", "humide", "franche", "sableuse", "sableux", "limoneuse", "limoneux",
        "argileuse", "argileux", "dans", "ici", "ce", "cette", "notre", "votre",
    ],
    kind_only: &[
        "fin", "fine", "grossier", "grossiere", "frais", "fraiche", "vieilli", "vieux", "vert",
        "verte", "dechet", "expanse", "composte", "compostee", "bois", "pin", "jeu", "beton",
        "champignonniere", "champignon", "vache", "cheval", "lave", "mur", "noir", "noire",
        "blanc", "blanche", "sec", "seche", "mouille", "humide", "cru", "vrac", "jardin", "riche",
        "broye", "broyee", "calcinee", "anguleux", "roule", "criblee", "liquide", "terreau",
        "reste", "en",
    ],
    preferred: &[
        ("sable", "concrete_sand"), ("gravillon", "pea_gravel"), ("gravier", "pea_gravel"),
        ("ponce", "pumice"), ("schiste", "expanded_shale"), ("charbon", "biochar_wood"),
        ("tourbe", "sphagnum_peat"), ("fumier", "cattle_manure"), ("bouse", "cattle_manure"),
        ("fiente", "poultry_manure"), ("ecorce", "pine_bark"), ("gypse", "gypsum"),
        ("platre", "gypsum"), ("champignon", "smc_fresh"), ("champignonniere", "smc_fresh"),
        ("vache", "cattle_manure"), ("mousse", "sphagnum_peat"), ("ver", "vermicompost"),
        ("humus", "yard_compost"), ("cendre", "wood_ash"), ("chaux", "lime_calcitic"),
        ("soufre", "sulfur"), ("paille", "straw"), ("sciure", "sawdust"),
    ],
    empty: &[
        "de", "du", "des", "d", "la", "le", "les", "l", "un", "une", "mon", "ma", "mes", "et",
    ],
};
