//! Programs the system's package manager brings: found on `PATH` or where systems put them, installed with apt-get where it may.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};

use crate::workspace;

/// A program named in the environment, else the first of `names` on `PATH`, else the first of `places` where a file lies.
///
/// # Errors
/// When the variable names a file that isn't there.
pub fn look(variable: &str, names: &[&str], places: &[&str]) -> Result<Option<PathBuf>> {
    if let Some(named) = std::env::var_os(variable).filter(|named| !named.is_empty()) {
        let file = PathBuf::from(named);
        if !file.is_file() {
            bail!("{variable} names {}, where no program is", file.display());
        }
        return Ok(Some(file));
    }
    let on_path = names.iter().find_map(|name| workspace::on_path(name));
    Ok(on_path.or_else(|| places.iter().map(PathBuf::from).find(|file| file.is_file())))
}

/// What `find` finds; where it doesn't, Debian's packages are installed with apt-get, if there is one and it may, and it looks again.
///
/// # Errors
/// When what is missing can't be installed; the message says why, and ends with `help`.
pub fn find_or_install<T>(find: impl Fn() -> Result<T>, packages: &[&str], help: &str) -> Result<T> {
    let reason = match find() {
        Ok(found) => return Ok(found),
        Err(reason) => reason,
    };
    println!("For the browser tests {reason}.");
    match administrator() {
        Some(before) if workspace::on_path("apt-get").is_some() => {
            let names = packages.join(" ");
            println!("Installing {names} with apt-get …");
            if let Err(reason) = install(&before, packages) {
                bail!("{reason:#}\nInstall {names} by hand, or see below.\n{help}");
            }
            find().map_err(|reason| anyhow::anyhow!("{names} are installed, and yet {reason}\n{help}"))
        }
        _ => bail!("{reason}.\n{help}"),
    }
}

/// The first number in what `--version` prints; `None` where a program prints nothing, as Chrome does on Windows.
pub fn major_version(program: &Path) -> Option<u32> {
    let output = Command::new(program).arg("--version").stderr(Stdio::null()).output().ok()?;
    first_number(&String::from_utf8_lossy(&output.stdout))
}

fn first_number(text: &str) -> Option<u32> {
    let start = text.find(|letter: char| letter.is_ascii_digit())?;
    let digits = text[start..].split(|letter: char| !letter.is_ascii_digit()).next()?;
    digits.parse().ok()
}

/// The words to put before an administrator's command: none for root, `sudo -n` where that asks no password, `None` for others.
fn administrator() -> Option<Vec<&'static str>> {
    let id = Command::new("id").arg("-u").output().ok()?;
    if String::from_utf8_lossy(&id.stdout).trim() == "0" {
        return Some(Vec::new());
    }
    let sudo = Command::new("sudo").args(["-n", "true"]).stderr(Stdio::null()).status().ok()?;
    sudo.success().then(|| vec!["sudo", "-n"])
}

fn install(before: &[&str], packages: &[&str]) -> Result<()> {
    let apt_get = |words: &[&str]| {
        let all: Vec<&str> = before
            .iter()
            .chain(&["env", "DEBIAN_FRONTEND=noninteractive", "apt-get"])
            .chain(words)
            .copied()
            .collect();
        let (program, arguments) = all.split_first().context("no command")?;
        let mut command = Command::new(program);
        command.args(arguments).stdout(Stdio::null());
        workspace::run(&mut command)
    };
    apt_get(&["update"])?;
    apt_get(&[&["install", "--yes", "--no-install-recommends"], packages].concat())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn versions_are_read_from_what_the_programs_print() {
        let cases = [
            ("Chromium 156.0.7800.12 built on Debian 13", Some(156)),
            ("ChromeDriver 156.0.7800.12 (abc-refs/branch)", Some(156)),
            ("Google Chrome 99.1", Some(99)),
            ("", None),
        ];
        for (printed, expected) in cases {
            assert_eq!(first_number(printed), expected, "{printed}");
        }
    }
}
