//! The sentences in English. Each stands on a line of its own in the page, so none has a line end.

texts! {
    NoCoarseGrains "No sand or grit carries this blend.";
    NoCoarseGrainsRest "Its pores are those of the crumbs and of what lies between and inside them.";
}

#[cfg(not(feature = "page"))]
pub(super) fn all() -> &'static [&'static str] {
    TEXTS
}
