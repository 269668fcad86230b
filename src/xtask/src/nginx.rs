//! An ordinary web server, nginx as Debian has it, over a folder: to see the site through somebody else's eyes.
//!
//! It runs as a plain process with a configuration of its own, on a port that needs no rights, and leaves nothing behind. The
//! configuration says what a host of the planner would say: the policy, and nothing of MIME types but nginx's own list.

use std::fs;
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail, ensure};

use crate::packages::{self, look};
use crate::serve::POLICY;

/// Where it lies for whom `PATH` has no folders of administrators.
const PLACES: &[&str] = &["/usr/sbin/nginx", "/usr/local/sbin/nginx"];
/// The list of MIME types that comes with it.
const TYPES: &[&str] = &["/etc/nginx/mime.types", "/usr/local/etc/nginx/mime.types"];

/// The packages, by their names in Debian.
const PACKAGES: &[&str] = &["nginx"];

/// How long it may take to start or to end.
const PATIENCE: Duration = Duration::from_secs(10);
/// Another program may take a port between its being found free and its being used.
const TRIES: u32 = 5;

/// A running nginx and its folder. When the value is dropped it stops, and the folder goes.
pub struct Nginx {
    program: PathBuf,
    folder: PathBuf,
    port: u16,
    process: Option<Child>,
}

/// A request as nginx has noted it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// The status of the answer.
    pub status: u16,
    /// What was asked for, from the first `/` on.
    pub address: String,
    /// The type of the answer, `-` where it has none.
    pub content_type: String,
    /// How its body was packed, `-` where it wasn't.
    pub encoding: String,
}

impl Nginx {
    /// Makes a folder of the system's temporary ones, has `fill` put what is to be served into it, and serves it. nginx is installed
    /// where it is missing and may be.
    ///
    /// # Errors
    /// When there is no nginx, or it doesn't start; the message has what it says.
    pub fn start(fill: impl FnOnce(&Path) -> Result<()>) -> Result<Self> {
        let program = find_or_install()?;
        let folder = std::env::temp_dir().join(format!("rowlight-host-{}", std::process::id()));
        let mut nginx = Self { program, folder, port: 0, process: None };
        let pages = nginx.folder.join("pages");
        fs::create_dir_all(&pages)?;
        fill(&pages)?;
        for _ in 0..TRIES {
            nginx.port = TcpListener::bind((Ipv4Addr::LOCALHOST, 0))?.local_addr()?.port();
            if nginx.run()? {
                return Ok(nginx);
            }
        }
        bail!(
            "nginx does not start: {}",
            fs::read_to_string(nginx.folder.join("error.log")).unwrap_or_default()
        );
    }

    /// Whether it has come to listen.
    fn run(&mut self) -> Result<bool> {
        fs::write(self.folder.join("nginx.conf"), configuration(&self.folder, self.port)?)?;
        let mut process = self
            .command()
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .context("nginx did not start")?;
        let begin = Instant::now();
        while begin.elapsed() < PATIENCE {
            if process.try_wait()?.is_some() {
                return Ok(false);
            }
            if TcpStream::connect((Ipv4Addr::LOCALHOST, self.port)).is_ok() {
                self.process = Some(process);
                return Ok(true);
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        self.process = Some(process);
        bail!("nginx does not listen")
    }

    fn command(&self) -> Command {
        let mut command = Command::new(&self.program);
        command.arg("-p").arg(&self.folder).arg("-e").arg(self.folder.join("error.log"));
        command.arg("-c").arg(self.folder.join("nginx.conf"));
        command
    }

    /// The address of the folder, with the `/` at its end.
    pub fn url(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// What has been asked for so far.
    ///
    /// # Errors
    /// When its notes can't be read.
    pub fn requests(&self) -> Result<Vec<Request>> {
        let notes = fs::read_to_string(self.folder.join("access.log"))?;
        notes.lines().map(|line| read(line).with_context(|| format!("an odd note: {line}"))).collect()
    }
}

/// Reads `status|address|type|encoding`.
fn read(line: &str) -> Option<Request> {
    let mut parts = line.split('|');
    let status = parts.next()?.parse().ok()?;
    let mut part = || parts.next().map(str::to_owned);
    Some(Request { status, address: part()?, content_type: part()?, encoding: part()? })
}

impl Drop for Nginx {
    fn drop(&mut self) {
        if let Some(mut process) = self.process.take() {
            // Told to, it takes its workers with it; killed, it would leave them.
            let told =
                self.command().args(["-s", "stop"]).stdout(Stdio::null()).stderr(Stdio::null()).status();
            let begin = Instant::now();
            while told.is_ok() && begin.elapsed() < PATIENCE && matches!(process.try_wait(), Ok(None)) {
                std::thread::sleep(Duration::from_millis(10));
            }
            let _ = process.kill();
            let _ = process.wait();
        }
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// Looks at `NGINX` first, then on `PATH`, then where systems put it; installs it with apt-get where it is missing and that may.
///
/// # Errors
/// When it is missing and can't be installed; the message says what to install.
pub fn find_or_install() -> Result<PathBuf> {
    packages::find_or_install(find, PACKAGES, HELP)
}

fn find() -> Result<PathBuf> {
    look("NGINX", &["nginx"], PLACES)?.context("there is no nginx")
}

fn configuration(folder: &Path, port: u16) -> Result<String> {
    let types = TYPES.iter().find(|file| Path::new(file).is_file()).context("nginx has no mime.types")?;
    let folder = folder.to_str().context("the temporary folder has an odd name")?;
    ensure!(!folder.contains(['"', '\\', '$', '\n']), "the temporary folder has an odd name: {folder}");
    let room = |name: &str| format!("{name}_temp_path \"{folder}/{name}\";");
    let rooms: Vec<String> =
        ["client_body", "proxy", "fastcgi", "uwsgi", "scgi"].into_iter().map(room).collect();
    Ok(format!(
        "daemon off;
worker_processes 1;
pid \"{folder}/nginx.pid\";
events {{ }}
http {{
  include {types};
  default_type application/octet-stream;
  gzip on;
  {rooms}
  log_format seen \"$status|$request_uri|$sent_http_content_type|$sent_http_content_encoding\";
  access_log \"{folder}/access.log\" seen;
  server {{
    listen 127.0.0.1:{port};
    root \"{folder}/pages\";
    add_header Content-Security-Policy \"{POLICY}\";
  }}
}}
",
        rooms = rooms.join("\n  "),
    ))
}

const HELP: &str = "\
Install nginx, then run this again:
  Debian:        sudo apt-get install nginx
  Fedora:        sudo dnf install nginx
  Arch:          sudo pacman -S nginx
  macOS:         brew install nginx
or name it in the environment variable NGINX. It needn't run: the test starts one of its own.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notes_are_read() {
        let request = |status, address: &str, content_type: &str, encoding: &str| Request {
            status,
            address: address.into(),
            content_type: content_type.into(),
            encoding: encoding.into(),
        };
        let cases = [
            ("200|/a/b.wasm|application/wasm|-", Some(request(200, "/a/b.wasm", "application/wasm", "-"))),
            ("304|/a/|-|gzip", Some(request(304, "/a/", "-", "gzip"))),
            ("x|/a/|-|-", None),
            ("200|/a/", None),
        ];
        for (line, expected) in cases {
            assert_eq!(read(line), expected, "{line}");
        }
    }
}
