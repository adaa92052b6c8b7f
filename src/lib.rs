//! Barrowmix answers one question: if I mix this into my ground, what do I get?
//!
//! A recipe (a ground, how much of it, what is added, where it goes) becomes an outcome: texture,
//! density, pore space, air, water, drainage, chemistry and cost, each with the range that holds nine
//! in ten of what is likely, a verdict in words, and what to beware of.
//!
//! # Quick start
//!
//! The front door is [`Recipe::from_json`](recipe::Recipe::from_json) and
//! [`Outcome::of`](outcome::Outcome::of):
//!
//! ```
//! use barrowmix::outcome::Outcome;
//! use barrowmix::recipe::Recipe;
//!
//! let recipe = Recipe::from_json(
//!     r#"{
//!         "barrowmix": 1,
//!         "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
//!         "soil": { "value": 40, "unit": "L" },
//!         "additions": [
//!             { "material": "yard_compost", "amount": { "value": 20, "unit": "%v" } }
//!         ]
//!     }"#,
//! )
//! .expect("the recipe has no fault");
//! let outcome = Outcome::of(&recipe).expect("it can be mixed");
//! assert!(outcome.pore_space_pct.settled.typical > outcome.pore_space_pct.puddled.typical);
//! ```
//!
//! For programs the outcome is a [`document`](mod@document) of plain data, and from JavaScript the same
//! is had through [`api`]. Uses of single rooms stand in `examples/`: `outcome`, `catalogue`, `seasons`,
//! `trial`, `errand`, `sweep`, `shelf`, `texture`, `dose`, `link`, `report`.
//!
//! # Rooms
//!
//! From the bottom up; each knows only those before it:
//!
//! | room | what it holds |
//! |---|---|
//! | [`figure`] | a number with its doubt |
//! | [`tongue`] | in which language texts are told, and how its numbers are written |
//! | [`lane`] | one number or two side by side, for what is computed many times |
//! | [`draws`] | strata, spreads, percentiles |
//! | [`source`] | where numbers come from, and how well they were read there |
//! | [`quantity`] | units of the user and their factors to SI |
//! | [`material`] | what can be added: properties, groups, the catalogue |
//! | [`texture`] | classes and the triangle |
//! | [`water`] | soil water as equations: retention, pots, drainage, densities that stop roots |
//! | [`chemistry`] | exchange, reaction, salts and nutrients as equations |
//! | [`dose`] | a label's rate for a pot, pail, bag or bed |
//! | [`ground`] | the starting soil: what is given, what is estimated in its place |
//! | [`recipe`] | the saved document: reading, checking, writing, the share link |
//! | [`blend`] | mass balance, packing, skeleton |
//! | [`caution`] | what must be said, and when |
//! | [`outcome`] | one recipe in, everything out: figures, verdict, notes |
//! | [`seasons`] | what the years do: decay, settling, top-ups, what holds a level |
//! | [`errand`] | before buying: offers, wishes, the least-cost search |
//! | [`trial`] | the side-by-side trial: plan, layout, records, what its readings show and what they cannot |
//! | [`sweep`] | one or two amounts across a range, and any figure along it |
//! | [`shelf`] | blends that are kept in the recipe, and how two of them differ draw by draw |
//! | [`plot`] | geometry of the drawings, as numbers |
//! | [`words`] | every visible sentence |
//! | [`document`] | the outcome as a document for programs |
//! | [`table`] | its figures as a table for spreadsheets |
//! | [`picture`] | the drawings as files of their own |
//! | [`api`] | the answers of the library for JavaScript, as data |
//! | `lent` | wasm and the feature `page`: what the page and the browser have and the module has not |
//! | `dom` | wasm and `web`: small helpers over the browser's document |
//! | `memory` | wasm and `web`: what the browser keeps |
//! | `web` | wasm and `web`: the page |
//! | `shed` | wasm and `shed`: the tools that a page loads when one is asked for |
//!
//! # Features
//!
//! None is on by itself. Without any the crate is the rooms above down to [`api`], native or for
//! `wasm32-unknown-unknown`: no page, no allocator of its own.
//!
//! | feature | what it adds |
//! |---|---|
//! | `api` | for wasm: the functions of [`api`] for JavaScript, with TypeScript types; `cargo site -- --api DIR` builds it |
//! | `web` | for wasm: what the page is made of; comes with the next two |
//! | `page` | the page's module: it reads catalogue and sentences from the page that it runs in, and leaves out what the page does not show. Not for other programs |
//! | `shed` | the page's second module |
//! | `site`, `runner` | native: the programs that build and serve the page, and run wasm tests in a browser |
//! | `page-tests`, `bench` | the page's tests, and doors into the wasm for measuring it |
//!
//! # Numbers
//!
//! Nothing here reads a clock, draws a random number, touches a file or panics on any input. The
//! same recipe gives the same bits on every machine, and what changes a number is a change that
//! `CHANGELOG.md` names.

#[macro_use]
mod fields;
#[macro_use]
pub mod tongue;
#[cfg(not(feature = "page"))]
pub mod api;
pub mod blend;
pub mod caution;
pub mod chemistry;
#[cfg(not(feature = "page"))]
pub mod document;
#[cfg(all(target_arch = "wasm32", feature = "web"))]
mod dom;
pub mod dose;
pub mod draws;
#[cfg(not(feature = "page"))]
pub mod errand;
pub mod figure;
pub mod ground;
pub mod lane;
#[cfg(any(feature = "page", all(target_arch = "wasm32", feature = "web")))]
mod lent;
pub mod material;
#[cfg(all(target_arch = "wasm32", feature = "web"))]
mod memory;
pub mod outcome;
#[cfg(not(feature = "page"))]
pub mod picture;
pub mod plot;
pub mod quantity;
pub mod recipe;
#[cfg(not(feature = "page"))]
pub mod seasons;
#[cfg(all(target_arch = "wasm32", feature = "shed"))]
mod shed;
#[cfg(not(feature = "page"))]
pub mod shelf;
pub mod source;
#[cfg(not(feature = "page"))]
pub mod sweep;
#[cfg(not(feature = "page"))]
pub mod table;
pub mod texture;
#[cfg(not(feature = "page"))]
pub mod trial;
pub mod water;
#[cfg(all(target_arch = "wasm32", feature = "web", not(feature = "shed")))]
mod web;
pub mod words;

/// Constant time, and a tenth of the standard one's size.
#[cfg(all(target_arch = "wasm32", any(feature = "web", feature = "api")))]
#[global_allocator]
static ALLOCATOR: rlsf::SmallGlobalTlsf = rlsf::SmallGlobalTlsf::new();
