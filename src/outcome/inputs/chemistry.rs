//! What is drawn for the chemistry of a recipe. The page's module has none of it.

use super::{Cause, Drawing, Inputs, Source};
use crate::blend::{
    Barrow, Brings, CARBONATE_ABOVE_PCT, CARBONATE_ABOVE_PH, Chemistry, ChemistryDoubt,
    EC_PASTE_DEFAULT, Mix, PH_DEFAULT, Part, SODIUM_EXCHANGED, SODIUM_SHARE_DEFAULT,
};
use crate::chemistry::reaction::{LIME_PH, LIME_PH_MOST, LIME_PH_WITHIN};
use crate::figure::Figure;
use crate::ground::Trait;
use crate::lane::{Lane, Pair};
use crate::material::Property;
use crate::recipe::Recipe;

/// The properties that the chemistry rests on.
const DRAWN: [Property; 12] = [
    Property::Ph,
    Property::Ec1To5,
    Property::Cec,
    Property::Buffer,
    Property::CarbonateEquivalent,
    Property::Gypsum,
    Property::Sulfur,
    Property::Nitrogen,
    Property::Phosphorus,
    Property::Sodium,
    Property::Carbon,
    Property::KeptAfterYear1,
];

/// Doubt on the buffering of a ground, as a logarithm: a factor of 0.6 to 1.6 (a choice, about what
/// tables of advice differ by).
const BUFFER: Figure = Figure::between(-0.51, 0.0, 0.47);
/// Doubt on an estimated exchange capacity, as a logarithm: a factor of 0.65 to 1.5 (a choice: clays
/// hold 30 to 70 cmol/kg).
const CEC: Figure = Figure::between(-0.43, 0.0, 0.41);
/// Doubt on the factor from 1:5 to the saturation extract, as a logarithm: 0.75 to 1.3 (two ways
/// to blend salts differ by a quarter).
const PASTE: Figure = Figure::between(-0.29, 0.0, 0.26);
/// Reaction that free lime holds, and its spread (common practice).
const HELD: Figure = Figure::between(LIME_PH - LIME_PH_WITHIN, LIME_PH, LIME_PH_MOST);
/// Share of a change of reaction outside the linear range that does not come about, in half of the
/// draws (a choice: buffering is known to grow there).
const OVERSTATED: Figure = Figure::between(0.0, 0.0, 0.4);

/// Carbonate of a ground of which only a high reaction is told, and its spread, % (common practice).
const CARBONATE_ABOVE: Figure = Figure::between(0.0, CARBONATE_ABOVE_PCT, 4.0);

/// Carbonate where it is not given.
fn assumed_carbonate(recipe: &Recipe) -> Option<Figure> {
    let ph = recipe.ground.get(Trait::Ph)?.typical;
    (ph > CARBONATE_ABOVE_PH).then_some(CARBONATE_ABOVE)
}

/// What is drawn beside properties and traits.
#[derive(Clone, Debug)]
pub(super) struct Sources {
    doubts: [Source; 6],
    /// Whether the ground's reaction is given.
    ph_is_given: bool,
    /// Whether each part's grains can form a skeleton.
    carries: Vec<bool>,
}

/// Draws it all.
pub(super) fn draw(
    drawing: &mut Drawing<'_>,
    recipe: &Recipe,
    barrow: &Barrow,
    ground: &mut [Source],
    parts: &mut [super::Sources],
) -> Sources {
    let given = |of: Trait| recipe.ground.get(of);
    for (of, otherwise) in [
        (Trait::Ph, Some(PH_DEFAULT)),
        (Trait::SodiumShare, Some(SODIUM_SHARE_DEFAULT)),
        (Trait::Cec, None),
        (Trait::Carbonate, assumed_carbonate(recipe)),
        (Trait::Ec1To5, None),
        (Trait::Ec1To2, None),
    ] {
        if let Some(figure) = given(of).or(otherwise) {
            ground[of as usize] = drawing.ground(of, figure);
        }
    }
    if given(Trait::Ec1To5).is_none() && given(Trait::Ec1To2).is_none() {
        let figure = given(Trait::EcSaturatedPaste).unwrap_or(EC_PASTE_DEFAULT);
        ground[Trait::EcSaturatedPaste as usize] = drawing.ground(Trait::EcSaturatedPaste, figure);
    }
    for (part, sources) in barrow.parts.iter().zip(parts.iter_mut()) {
        let id = &recipe.additions[part.line].material;
        let Some(found) = recipe.find(id) else {
            continue;
        };
        for property in DRAWN {
            if let Some(figure) = found.properties().get(property) {
                let cause = Cause::Material(part.line, property);
                let (name, limits) = (property.name(), property.limits());
                sources[property as usize] = drawing.figure(cause, id, name, figure, limits);
            }
        }
    }
    let mut of = |name: &str, figure: Figure, limits: (f64, f64)| {
        drawing.figure(Cause::Chemistry, "blend", name, figure, limits)
    };
    Sources {
        ph_is_given: given(Trait::Ph).is_some(),
        doubts: [
            of("buffer", BUFFER, (-2.0, 2.0)),
            of("cec", CEC, (-2.0, 2.0)),
            of("paste", PASTE, (-2.0, 2.0)),
            of("sodium_exchanged", SODIUM_EXCHANGED, (0.0, 1.0)),
            of("lime_ph", HELD, (LIME_PH - LIME_PH_WITHIN, LIME_PH_MOST)),
            of("overstated", OVERSTATED, (0.0, 1.0)),
        ],
        carries: barrow.parts.iter().map(Part::is_coarse).collect(),
    }
}

impl Inputs {
    fn chemistry_doubt<L: Lane>(&self, draw: usize) -> ChemistryDoubt<L> {
        let [buffer, cec, paste, sodium, lime_ph, overstated] = self
            .chemistry
            .doubts
            .map(|source| source.get(&self.columns, draw).unwrap_or(L::all(0.0)));
        let factor = |log: L| log.each(libm::exp);
        ChemistryDoubt {
            buffer: factor(buffer),
            cec: factor(cec),
            paste: factor(paste),
            sodium,
            lime_ph,
            overstated,
        }
    }

    /// The chemistry of the ground alone, from a draw on.
    pub(in crate::outcome) fn ground_chemistry(&self, draw: usize) -> Chemistry<Pair> {
        let doubt = self.chemistry_doubt(draw);
        let ground = self.ground::<Pair>(draw);
        let given = self.chemistry.ph_is_given;
        let earth = Brings::of_ground(&ground, |of| self.trait_of(of, draw), given, &doubt);
        Chemistry::alone(&ground, earth, &doubt)
    }

    /// The chemistry of a mix, from a draw on.
    pub(in crate::outcome) fn chemistry(
        &self,
        parts: &[Part],
        mix: &Mix<Pair>,
        draw: usize,
    ) -> Chemistry<Pair> {
        let doubt = self.chemistry_doubt(draw);
        let given = self.chemistry.ph_is_given;
        let earth = Brings::of_ground(&mix.ground, |of| self.trait_of(of, draw), given, &doubt);
        let brings = |at: usize| self.part_brings(mix, at, draw, &doubt);
        Chemistry::of(parts, mix, earth, brings, &doubt)
    }

    fn part_brings(
        &self,
        mix: &Mix<Pair>,
        at: usize,
        draw: usize,
        doubt: &ChemistryDoubt<Pair>,
    ) -> Brings<Pair> {
        let sources = &self.parts[at];
        let given = |of: Property| sources[of as usize].get(&self.columns, draw);
        let carries = self.chemistry.carries[at];
        Brings::of_material(&mix.shares[at].material, carries, given, doubt)
    }

    /// What a part of a mix brings, from a draw on.
    pub(in crate::outcome) fn brings(
        &self,
        mix: &Mix<Pair>,
        at: usize,
        draw: usize,
    ) -> Brings<Pair> {
        self.part_brings(mix, at, draw, &self.chemistry_doubt(draw))
    }
}
