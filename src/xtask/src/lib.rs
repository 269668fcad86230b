//! The host tool: builds the site, serves it, tests it, times it, and computes a plan in the terminal.
//!
//! | room | what it does |
//! |---|---|
//! | [`workspace`] | where things lie, how a command is run |
//! | [`site`] | from the crate `widget` to plain files in `dist/` |
//! | [`serve`] | the static server of `cargo xtask serve`, of the browser tests and of the bench |
//! | `stages` | everything `cargo xtask test` and the continuous integration check |
//! | [`packages`] | programs that the system's package manager brings |
//! | [`chromium`], [`firefox`] | find a browser and its driver, or install them |
//! | [`nginx`] | an ordinary web server, for the browser tests |
//! | [`npm`] | programs that only npm brings, fetched into cargo's target |
//! | `bench` | timings against the figures the project promises |
//! | [`plan_command`] | a scenario file in; figures, drawings, tables or its link out |
//!
//! Nothing here is part of the product: the three product crates don't know this one.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

#[cfg(feature = "publish")]
pub mod bench;
#[cfg(feature = "browser")]
pub mod browser;
pub mod chromium;
pub mod firefox;
pub mod nginx;
pub mod npm;
pub mod packages;
pub mod plan_command;
pub mod serve;
pub mod site;
#[cfg(feature = "publish")]
pub mod stages;
pub mod workspace;

/// The environment variable by which `cargo xtask test` tells the browser tests where the built site lies.
pub const BUILT_SITE: &str = "ROWLIGHT_SITE";
