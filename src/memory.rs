//! The browser's memory: what is kept there, under which names. It may be full, blocked or throw;
//! nothing is read then, and what is written is told not to be.

use crate::dom::{Storage, window};

/// What this page keeps begins so.
#[cfg_attr(not(feature = "shed"), allow(dead_code))]
pub(crate) const OURS: &str = "barrowmix.";
/// The recipe as it stands.
#[cfg_attr(feature = "shed", allow(dead_code))]
pub(crate) const RECIPE: &str = "barrowmix.recipe";
/// Recipes that gave way to another one, the newest first.
pub(crate) const KEPT: &str = "barrowmix.kept";
/// Stands between them.
pub(crate) const BETWEEN: &str = " ";
/// The units of display.
#[cfg_attr(feature = "shed", allow(dead_code))]
pub(crate) const UNITS: &str = "barrowmix.units";
/// Ids of the materials that are wanted first.
pub(crate) const FAVOURITES: &str = "barrowmix.favourites";
/// The system of texture classes that is shown beside the usual one.
#[cfg_attr(not(feature = "shed"), allow(dead_code))]
pub(crate) const SYSTEM: &str = "barrowmix.system";
/// The sizes of the user's own bucket and barrow.
#[cfg_attr(not(feature = "shed"), allow(dead_code))]
pub(crate) const SIZES: &str = "barrowmix.sizes";

pub(crate) fn storage() -> Option<Storage> {
    window().local_storage().ok()?
}

/// The items of a list that is kept under a name.
pub(crate) fn items(text: &str) -> Vec<&str> {
    crate::lent::pieces(text, b' ')
}

pub(crate) fn read(key: &str) -> Option<String> {
    storage()?.get_item(key).ok()?
}

/// Whether it was written.
pub(crate) fn write(key: &str, text: &str) -> bool {
    storage().is_some_and(|storage| storage.set_item(key, text).is_ok())
}
