//! The built site in a real browser, under the strict policy.
//!
//! `cargo xtask test --only browser` builds the site and runs this; with a site already in `dist/`,
//! `cargo test -p rowlight-tests --test browser -- NAME` runs some of it. `harness` says how to add a case.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

use std::process::ExitCode;

mod care;
mod controls;
mod embed;
mod firefox;
mod guest;
mod handles;
mod harness;
mod hosted;
mod keeping;
mod light;
mod loading;
mod measuring;
mod offline;
mod pdf;
mod planner;
mod print;
mod reach;
mod refusals;
mod remedies;
mod rooms;
mod senses;
mod sharing;
mod touch;
mod year;

fn main() -> ExitCode {
    let in_chromium = &[
        loading::CASES,
        rooms::CASES,
        measuring::CASES,
        controls::CASES,
        handles::CASES,
        touch::CASES,
        refusals::CASES,
        keeping::CASES,
        care::CASES,
        year::CASES,
        light::CASES,
        remedies::CASES,
        reach::CASES,
        senses::CASES,
        embed::CASES,
        guest::CASES,
        sharing::CASES,
        offline::CASES,
        print::CASES,
        hosted::CASES,
    ];
    harness::run(in_chromium, firefox::CASES)
}
