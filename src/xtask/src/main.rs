//! `cargo xtask …`: reads the command line and calls the room that does the work.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

use std::process::ExitCode;

use anyhow::{Result, bail};
use lexopt::prelude::*;
use xtask::plan_command::{self, Shown};
use xtask::{serve, workspace};

const HELP: &str = "\
cargo xtask serve [--port N] [--open]    build the site for looking at and serve it on this machine (port 8317)
cargo xtask build                        write the site for publishing to dist/ and weigh it
cargo xtask test [--only native|browser] everything the continuous integration checks
cargo xtask bench [--site FOLDER] [--plans WORD]
                                         time the plan and its drawings on this machine, or a built site alone
cargo xtask plan FILE.json [--svg DRAWING | --csv figures|orders|stations | --link]
                                         compute a scenario file; print its figures, a drawing, a table or its link
                                         drawings: DRAWINGS
";

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
    let command = match words.next()? {
        Some(Value(command)) => command.string()?,
        Some(Short('h') | Long("help")) | None => "help".into(),
        Some(other) => return Err(other.unexpected().into()),
    };
    match command.as_str() {
        "serve" => {
            let (mut port, mut open) = (serve::PORT, false);
            while let Some(word) = words.next()? {
                match word {
                    Long("port") => port = words.value()?.parse()?,
                    Long("open") => open = true,
                    other => return Err(other.unexpected().into()),
                }
            }
            serve::run(port, open)
        }
        "build" | "test" | "bench" => publish(&command, words),
        "plan" => {
            let (mut file, mut shown) = (None, Shown::default());
            while let Some(word) = words.next()? {
                match word {
                    Long("svg") => shown = Shown::Drawing(words.value()?.parse()?),
                    Long("csv") => shown = Shown::Table(words.value()?.parse()?),
                    Long("link") => shown = Shown::Link,
                    Value(word) if file.is_none() => file = Some(word.into()),
                    other => return Err(other.unexpected().into()),
                }
            }
            match file {
                Some(file) => plan_command::run(plan_command::Order { file, shown }),
                None => bail!("which scenario file? `cargo xtask plan FILE.json`"),
            }
        }
        "help" => {
            print!("{}", help());
            Ok(())
        }
        other => bail!("there is no `{other}`\n\n{}", help()),
    }
}

fn help() -> String {
    HELP.replace("DRAWINGS", &plan_command::View::keys(", "))
}

/// Hands the rest to the program `publish`, which is compiled when it is first asked for: what it takes would double the time until
/// `serve` shows a page.
fn publish(command: &str, words: &mut lexopt::Parser) -> Result<()> {
    let mut cargo = workspace::cargo();
    cargo.args([
        "run",
        "--quiet",
        "--package",
        "xtask",
        "--features",
        "publish",
        "--bin",
        "publish",
        "--",
        command,
    ]);
    cargo.args(words.raw_args()?);
    if !cargo.status()?.success() {
        bail!("`cargo xtask {command}` failed");
    }
    Ok(())
}
