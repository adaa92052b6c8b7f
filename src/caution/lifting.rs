//! How much can be lifted how: the revised lifting equation (NIOSH publication 94-110, 1994, as
//! revised in 2021; its multipliers were read second-hand, that of asymmetry from memory).

use super::LIFT_KG;

/// A lift with both hands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// From the ankles to the hands, level, cm.
    pub reach_cm: f64,
    /// Height of the hands at the start, cm.
    pub height_cm: f64,
    /// How far it is lifted, cm.
    pub travel_cm: f64,
    /// How far one turns, degrees.
    pub turn_deg: f64,
    /// What frequency takes, 1 for a lift now and then.
    pub frequency: f64,
    /// What poor handles take, 1 for good ones.
    pub grip: f64,
}

impl Lift {
    /// A bag or pot without handles from the ground to a bench.
    pub const FROM_GROUND: Lift = Lift {
        reach_cm: 40.0,
        height_cm: 20.0,
        travel_cm: 60.0,
        turn_deg: 0.0,
        frequency: 1.0,
        grip: 0.95,
    };

    /// Weight that most people can lift so, kg, 0 to [`LIFT_KG`]; not for one hand or a swaying load.
    pub fn most_kg(&self) -> f64 {
        let reach = 25.0 / self.reach_cm.max(25.0);
        let height = 1.0 - 0.003 * (self.height_cm - 75.0).abs();
        let travel = 0.82 + 4.5 / self.travel_cm.max(25.0);
        let turn = 1.0 - 0.0032 * self.turn_deg.abs();
        let share =
            reach * height.max(0.0) * travel.min(1.0) * turn.max(0.0) * self.frequency * self.grip;
        // What is no number lifts nothing.
        if share > 0.0 {
            LIFT_KG * share.min(1.0)
        } else {
            0.0
        }
    }

    /// How many times that a load is.
    pub fn index(&self, load_kg: f64) -> f64 {
        load_kg / self.most_kg()
    }
}
