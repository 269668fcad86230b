//! The commands `build`, `test` and `bench` of `cargo xtask`, which starts this program for them.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

use std::process::ExitCode;

use anyhow::{Result, bail};
use lexopt::prelude::*;
use xtask::stages::{self, Only};
use xtask::{bench, site};

fn main() -> ExitCode {
    match run(&mut lexopt::Parser::from_env()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(reason) => {
            eprintln!("error: {reason:#}");
            ExitCode::FAILURE
        }
    }
}

fn run(words: &mut lexopt::Parser) -> Result<()> {
    let Some(Value(command)) = words.next()? else { bail!("started by `cargo xtask`, not by hand") };
    let (mut only, mut folder, mut plans) = (None, None, None);
    while let Some(word) = words.next()? {
        match (command.to_str(), word) {
            (Some("test"), Long("only")) => only = Some(words.value()?.parse::<Only>()?),
            (Some("bench"), Long("site")) => folder = Some(words.value()?.into()),
            (Some("bench"), Long("plans")) => plans = Some(words.value()?.string()?),
            (_, other) => return Err(other.unexpected().into()),
        }
    }
    match command.to_str() {
        Some("build") => site::run(),
        Some("test") => stages::run(only),
        Some("bench") => bench::run(folder, plans.as_deref()),
        _ => bail!("there is no such command"),
    }
}
