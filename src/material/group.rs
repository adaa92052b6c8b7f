//! Kinds of material and what a kind decides.

macro_rules! groups {
    ($($(#[$doc:meta])* $name:ident $spelling:literal $gain:literal;)*) => {
        /// What kind of thing an addition is.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Group { $($(#[$doc])* $name,)* }

        impl Group {
            /// Every group, in document order.
            pub const ALL: &[Group] = &[$(Group::$name,)*];

            /// The spelling in a recipe.
            pub fn spelling(self) -> &'static str {
                match self { $(Group::$name => $spelling,)* }
            }

            /// Settled over fresh dry density where no settled density is given (common
            /// practice: sand 5-12 %, light grains 5-15 %, organics 15-30 %).
            pub fn settling_gain(self) -> f64 {
                match self { $(Group::$name => $gain,)* }
            }
        }
    };
}

groups! {
    /// Sands.
    Sand "sand" 1.10;
    /// Grit and fine gravel.
    Grit "grit" 1.08;
    /// Perlite, pumice, expanded shale and the like.
    PorousMineral "porous_mineral" 1.12;
    /// Crushed minerals.
    MineralMeal "mineral_meal" 1.12;
    /// Biochar and charcoal.
    Char "char" 1.25;
    /// Peat and coir.
    PeatCoir "peat_coir" 1.30;
    /// Composts and manures.
    CompostManure "compost_manure" 1.25;
    /// Bark, wood and straw.
    BarkWoodStraw "bark_wood_straw" 1.25;
    /// Seed and feed meals.
    Meal "meal" 1.25;
    /// Soils bought in.
    Soil "soil" 1.20;
    /// Milled powders such as gypsum and lime.
    Powder "powder" 1.20;
    /// Liquids: they wet, they do not pack.
    Liquid "liquid" 1.0;
}

impl Group {
    /// The group of an exact spelling, or none.
    pub fn from_spelling(spelling: &str) -> Option<Group> {
        Group::ALL
            .iter()
            .copied()
            .find(|group| group.spelling() == spelling)
    }

    /// Whether the material is organic in kind, so that its grains are soft and porous.
    pub fn is_organic(self) -> bool {
        matches!(
            self,
            Group::Char
                | Group::PeatCoir
                | Group::CompostManure
                | Group::BarkWoodStraw
                | Group::Meal
        )
    }

    /// Whether its mineral part counts as sand, silt and clay.
    pub fn gives_fines(self) -> bool {
        !matches!(self, Group::Powder | Group::Liquid)
    }

    /// Whether grains of this kind can form a skeleton that carries the bed.
    pub fn can_carry(self) -> bool {
        matches!(
            self,
            Group::Sand | Group::Grit | Group::MineralMeal | Group::PorousMineral
        )
    }
}
