//! How each figure is made, for a gardener.

use super::super::{class_name, fixed};
use super::{Asked, Case, percent};
use crate::ground::GRAIN_CLAY_PCT;

/// The figure's name.
pub(super) fn title(of: Asked) -> &'static str {
    match of {
        Asked::Class => tr!("Texture class"),
        Asked::Pores => tr!("Pores, settled"),
        Asked::Density => tr!("Density, settled"),
        Asked::OrganicMatter => tr!("Organic matter"),
        Asked::FreshPores => tr!("Pores, fresh"),
        Asked::PuddledPores => tr!("Pores, puddled"),
        Asked::Volume => tr!("Volume, settled"),
        Asked::Weight => tr!("Weight as mixed"),
        Asked::Cost => tr!("Cost"),
        Asked::Skeleton => tr!("Whether coarse grains touch"),
        Asked::Air => tr!("Air once drained"),
        Asked::AvailableWater => tr!("Water for plants"),
        Asked::Drainage => tr!("How fast water leaves"),
        Asked::Container => tr!("Water and air in the pot"),
        Asked::Ph => "pH",
        Asked::Salts => tr!("Salts"),
        Asked::Sodium => tr!("Sodium and gypsum"),
        Asked::Nitrogen => tr!("Nitrogen and phosphorus"),
    }
}

impl Case<'_> {
    pub(super) fn made(&self) -> String {
        match self.of {
            Asked::Class => self.made_class(),
            Asked::OrganicMatter => self.made_organic(),
            Asked::Weight => self.made_weight(),
            Asked::Cost => self.made_cost(),
            Asked::Skeleton => self.made_skeleton(),
            Asked::Air => tr!("Of all pores, what is not water once it stopped draining: the pore space less the water held at a pull of 33 kPa, and less closed cells, which no root can use.")
                .into(),
            Asked::AvailableWater => tr!("Water that stays once it stopped draining, at a pull of 33 kPa, less what plants leave behind, at 1500 kPa. The fine earth holds what its texture, organic matter and density let it; pieces of peat, bark, compost, char and light minerals hold what their kind holds.")
                .into(),
            Asked::Drainage => tr!("The pores that empty within days decide how fast water goes through when all is full: the more of them, and the fewer clay holds, the faster. Coarse grains are in the way while they float, and lead water once they touch.")
                .into(),
            Asked::Container => self.made_pot(),
            _ if self.of.is_of_chemistry() => self.made_chemistry(),
            _ => self.made_by_packing(),
        }
    }

    fn made_class(&self) -> String {
        let Some(texture) = self.outcome.texture else {
            return tr!(
                "There is no sand, silt or clay in this blend, so it has no texture class."
            )
            .into();
        };
        say!(
            "The sand, silt and clay that each part brings are added by dry weight, without organic matter and without grains over 2 mm; where the sum falls in the triangle is the class, here {}.",
            class_name(texture.class)
        )
    }

    fn made_organic(&self) -> String {
        if self.outcome.organic_matter_pct.is_none() {
            return tr!("All of this blend is grains over 2 mm, which are not counted here, so there is nothing to tell a share of.")
                .into();
        }
        let mut text = String::from(tr!(
            "The organic matter that each part brings is added by dry weight and divided by the dry weight of the blend, grains over 2 mm left out."
        ));
        if self.outcome.blend.masses.char_kg > 0.0 {
            text += tr!(" Char is not counted as organic matter.");
        }
        text
    }

    fn made_weight(&self) -> String {
        let whose = if self.has_ground() {
            tr!(
                "The dry weight of the ground and of all that is mixed in, with the water that each brings"
            )
        } else {
            tr!("The dry weight of all that is mixed, with the water that each part brings")
        };
        say!(
            "{}, is added up. Rain and watering come on top of it; a mulch is not in it.",
            whose
        )
    }

    fn made_cost(&self) -> String {
        if self.recipe.additions.is_empty() {
            return tr!(
                "Nothing is bought for this blend, so it costs nothing; the ground counts as free."
            )
            .into();
        }
        if self.outcome.cost.is_none() {
            return tr!("There is no sum yet: at least one addition has no price. Give each a price, 0 for what you have.")
                .into();
        }
        tr!("Each addition's price is taken for as much as is used, and the sums are added; the ground counts as free. The rest of a bag, delivery and work are not in it.")
            .into()
    }

    fn made_by_packing(&self) -> String {
        let what = match self.of {
            Asked::Density => {
                tr!("The dry weight of the blend is divided by the room that it takes")
            }
            Asked::Volume => tr!("This is the room that the blend takes"),
            _ => {
                tr!("The room of all solid matter is taken away from the room that the blend takes")
            }
        };
        let state = match self.of {
            Asked::FreshPores => tr!("freshly turned"),
            Asked::PuddledPores => tr!("with its crumbs slaked and every gap filled that can be"),
            _ => tr!("after about a season of rain"),
        };
        let how = if !self.mixes() {
            if self.has_ground() {
                tr!(
                    "With nothing mixed in to fill gaps, that room is estimated from the ground's density alone."
                )
            } else {
                tr!("With one part alone, that room follows from its own density.")
            }
        } else if self.of.settles_half() {
            tr!(
                "Small grains fill gaps between large ones, so that room is likely less than the parts take one by one: how much is estimated by a packing model, of which a natural bed shows about half."
            )
        } else {
            tr!(
                "Small grains fill gaps between large ones, so that room is likely less than the parts take one by one: how much is estimated by a packing model."
            )
        };
        format!("{what} {state}. {how}")
    }

    fn made_pot(&self) -> String {
        if self.outcome.container.is_none() {
            return tr!("No pot with a height is told of, so there is nothing to tell here. A bed on the ground drains into it.")
                .into();
        }
        tr!("When a pot has drained, its bottom is still full, and each height above it holds the water that its pull leaves. That is summed over the height and width of the mix; the rest of the pores is air, closed cells left out.")
            .into()
    }

    fn made_skeleton(&self) -> String {
        let skeleton = &self.outcome.blend.skeleton;
        if !self.has_ground() {
            return tr!("There is no ground in this blend, and so no clay that coarse grains could float in: whether they touch is not asked.")
                .into();
        }
        if skeleton.touching.is_none() {
            return say!(
                "Whether coarse grains touch is judged against clay that they could float in; the ground has {} clay, and with {} % or less it is not asked.",
                percent(self.outcome.barrow.ground.clay_pct()),
                fixed(GRAIN_CLAY_PCT, 0)
            );
        }
        if skeleton.threshold.is_none() {
            return tr!(
                "There are no coarse grains in this blend, so there is nothing that could touch."
            )
            .into();
        }
        tr!("The coarse grains are packed alone, and all the rest alone with its clay puddled. The share of the coarse grains in these two rooms is held against the share at which such grains likely just touch.")
            .into()
    }
}
