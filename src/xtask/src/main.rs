//! `cargo xtask …`: reads the command line and calls the room that does the work.

use std::process::ExitCode;

use anyhow::{Result, bail};
use lexopt::prelude::*;
use xtask::plan_command::{self, Shown};
use xtask::stages::{self, Only};
use xtask::{bench, serve, site};

const HELP: &str = "\
cargo xtask serve [--port N] [--open]    build the site and serve it on this machine (port 8317)
cargo xtask build                        write the site for publishing to dist/ and weigh it
cargo xtask test [--only native|browser] everything the continuous integration checks
cargo xtask bench                        time the plan and its drawings on this machine
cargo xtask plan FILE.json [--svg plan|section|elevation | --csv figures|orders|stations | --link]
                                         compute a scenario file; print its figures, a drawing, a table or its link
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
        "build" => {
            nothing_more(words)?;
            site::run()
        }
        "test" => {
            let mut only = None;
            while let Some(word) = words.next()? {
                match word {
                    Long("only") => only = Some(words.value()?.parse::<Only>()?),
                    other => return Err(other.unexpected().into()),
                }
            }
            stages::run(only)
        }
        "bench" => {
            nothing_more(words)?;
            bench::run()
        }
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
            print!("{HELP}");
            Ok(())
        }
        other => bail!("there is no `{other}`\n\n{HELP}"),
    }
}

fn nothing_more(words: &mut lexopt::Parser) -> Result<()> {
    match words.next()? {
        Some(word) => Err(word.unexpected().into()),
        None => Ok(()),
    }
}
