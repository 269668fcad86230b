//! The static server: of `cargo xtask serve`, of the browser tests, of the bench.
//!
//! It sends the strict policy the site promises to live under, so that nobody develops against a laxer one, and the right MIME
//! types, without which browsers refuse modules and compile wasm the slow way. It listens on this machine only.

use std::collections::BTreeMap;
use std::convert::Infallible;
use std::fs;
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::thread::JoinHandle;

use anyhow::{Context, Result, anyhow};
use http_body_util::Full;
use hyper::body::{Bytes, Incoming};
use hyper::header::{HeaderName, HeaderValue};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Method, Request, Response, StatusCode};
use hyper_util::rt::TokioIo;
use tokio::net::TcpListener;
use tokio::runtime::{self, Runtime};
use tokio::sync::oneshot;

use crate::site::{self, Finish};
use crate::workspace;

/// What a host may forbid and the site must do without: inline scripts and styles, `eval`, every other origin.
pub const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
    img-src 'self' data: blob:; connect-src 'self'; font-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";

/// The port `cargo xtask serve` asks for first.
pub const PORT: u16 = 8317;

/// How many ports after a busy one are tried.
const TRIES: u16 = 20;

const MIME: &[(&str, &str)] = &[
    ("html", "text/html; charset=utf-8"),
    ("js", "text/javascript; charset=utf-8"),
    ("mjs", "text/javascript; charset=utf-8"),
    ("css", "text/css; charset=utf-8"),
    ("wasm", "application/wasm"),
    ("json", "application/json"),
    ("webmanifest", "application/manifest+json"),
    ("svg", "image/svg+xml"),
    ("png", "image/png"),
    ("webp", "image/webp"),
    ("ico", "image/x-icon"),
    ("woff2", "font/woff2"),
    ("pdf", "application/pdf"),
    ("md", "text/markdown; charset=utf-8"),
    ("txt", "text/plain; charset=utf-8"),
    ("ts", "text/plain; charset=utf-8"),
];

/// A prepared answer to one address, in place of the file: host pages for embedding tests, and hosts that do things wrong.
#[derive(Clone, Debug)]
pub struct Answer {
    /// HTTP status code.
    pub status: u16,
    /// Content of the header `Content-Type`.
    pub content_type: String,
    /// What is sent.
    pub body: Vec<u8>,
}

/// How to serve a folder.
#[derive(Clone, Debug)]
pub struct Settings {
    /// The port; 0 takes a free one.
    pub port: u16,
    /// The address of the folder on the server; opens and ends with `/`.
    pub under: String,
    /// Content of the header `Content-Security-Policy`; without it, none is sent.
    pub policy: Option<String>,
    /// Addresses, from the first `/` on, that don't come from the folder.
    pub answers: BTreeMap<String, Answer>,
}

impl Default for Settings {
    /// A free port, the folder at `/`, the strict policy.
    fn default() -> Self {
        Self { port: 0, under: "/".into(), policy: Some(POLICY.into()), answers: BTreeMap::new() }
    }
}

/// A running server. It stops when it is dropped.
pub struct Server {
    address: SocketAddr,
    under: String,
    stop: Option<oneshot::Sender<()>>,
    thread: Option<JoinHandle<()>>,
}

impl Server {
    /// Serves `folder` until the value is dropped.
    ///
    /// # Errors
    /// When the folder is missing or the port is busy.
    pub fn start(folder: &Path, settings: Settings) -> Result<Self> {
        let folder = folder.canonicalize().with_context(|| format!("{} is missing", folder.display()))?;
        let port = settings.port;
        let runtime = runtime::Builder::new_current_thread().enable_io().build()?;
        let listener = runtime
            .block_on(TcpListener::bind(("127.0.0.1", port)))
            .map_err(|reason| anyhow!("port {port}: {reason}"))?;
        let address = listener.local_addr()?;
        let under = settings.under.clone();
        let shelf = Arc::new(Shelf { folder, settings });
        let (stop, stopped) = oneshot::channel();
        let thread = std::thread::spawn(move || listen(&runtime, listener, shelf, stopped));
        Ok(Self { address, under, stop: Some(stop), thread: Some(thread) })
    }

    /// The address of the folder, with the `/` at its end.
    pub fn url(&self) -> String {
        format!("http://{}{}", self.address, self.under)
    }

    /// Waits, in practice for ever.
    pub fn wait(mut self) {
        if let Some(thread) = self.thread.take() {
            // A thread that panicked has printed why.
            let _ = thread.join();
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        if let Some(stop) = self.stop.take() {
            let _ = stop.send(());
        }
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

/// Answers whoever calls until it is stopped. One thread, but no visitor waits for another: browsers open connections ahead of
/// need and keep them silent.
fn listen(runtime: &Runtime, listener: TcpListener, shelf: Arc<Shelf>, stopped: oneshot::Receiver<()>) {
    let calls = async move {
        loop {
            let Ok((stream, _)) = listener.accept().await else { continue };
            let shelf = Arc::clone(&shelf);
            tokio::spawn(async move {
                let service = service_fn(|request| {
                    let answer = shelf.answer(&request);
                    async { Ok::<_, Infallible>(answer) }
                });
                // A visitor who left before the answer was complete is no fault of the server.
                let _ = http1::Builder::new().serve_connection(TokioIo::new(stream), service).await;
            });
        }
    };
    runtime.block_on(async {
        tokio::spawn(calls);
        // Stopped by a word or by the end of whoever could say it.
        let _ = stopped.await;
    });
}

/// The folder, and how it is shown.
struct Shelf {
    folder: PathBuf,
    settings: Settings,
}

impl Shelf {
    fn answer(&self, request: &Request<Incoming>) -> Response<Full<Bytes>> {
        let (answer, more) = match *request.method() {
            Method::GET | Method::HEAD => self.look_up(request.uri().path()),
            _ => (plain(405, "Only GET and HEAD."), Some(("Allow", "GET, HEAD".to_owned()))),
        };
        let mut headers = vec![
            ("Content-Type", answer.content_type),
            ("Cache-Control", "no-store".to_owned()),
            ("X-Content-Type-Options", "nosniff".to_owned()),
        ];
        headers.extend(self.settings.policy.clone().map(|policy| ("Content-Security-Policy", policy)));
        headers.extend(more);
        let mut response = Response::new(Full::from(answer.body));
        *response.status_mut() = StatusCode::from_u16(answer.status).unwrap_or_default();
        for (name, value) in headers {
            if let (Ok(name), Ok(value)) = (HeaderName::try_from(name), HeaderValue::try_from(value)) {
                response.headers_mut().insert(name, value);
            }
        }
        response
    }

    fn look_up(&self, address: &str) -> (Answer, Option<(&'static str, String)>) {
        if let Some(answer) = self.settings.answers.get(address) {
            let elsewhere = (answer.status == 301)
                .then(|| ("Location", String::from_utf8_lossy(&answer.body).into_owned()));
            return (answer.clone(), elsewhere);
        }
        let Some(file) = address.strip_prefix(&self.settings.under).and_then(|rest| self.file(rest)) else {
            return (plain(404, "There is nothing at this address."), None);
        };
        if file.is_dir() && !address.ends_with('/') {
            return (plain(301, "This is a folder."), Some(("Location", format!("{address}/"))));
        }
        let file = if file.is_dir() { file.join("index.html") } else { file };
        match fs::read(&file) {
            Ok(body) => (Answer { status: 200, content_type: mime(&file).to_owned(), body }, None),
            Err(_) => (plain(404, "There is nothing at this address."), None),
        }
    }

    /// The file or folder behind the rest of an address; none outside the served folder, by dots or by links.
    fn file(&self, rest: &str) -> Option<PathBuf> {
        let rest = percent_decoded(rest)?;
        let mut file = self.folder.clone();
        for part in rest.split('/').filter(|part| !part.is_empty()) {
            if part.starts_with('.') || part.contains(['\\', ':', '\0']) {
                return None;
            }
            file.push(part);
        }
        let file = file.canonicalize().ok()?;
        file.starts_with(&self.folder).then_some(file)
    }
}

fn plain(status: u16, text: &str) -> Answer {
    Answer {
        status,
        content_type: "text/plain; charset=utf-8".into(),
        body: format!("{text}\n").into_bytes(),
    }
}

fn mime(file: &Path) -> &'static str {
    let ending = file.extension().unwrap_or_default();
    MIME.iter().find(|(known, _)| ending == *known).map_or("application/octet-stream", |(_, mime)| mime)
}

fn percent_decoded(text: &str) -> Option<String> {
    let mut bytes = text.bytes();
    let mut decoded = Vec::with_capacity(text.len());
    while let Some(byte) = bytes.next() {
        decoded.push(match byte {
            b'%' => {
                let digits = [bytes.next()?, bytes.next()?];
                u8::from_str_radix(std::str::from_utf8(&digits).ok()?, 16).ok()?
            }
            other => other,
        });
    }
    String::from_utf8(decoded).ok()
}

/// `cargo xtask serve`: builds the site for looking at, and serves it until it is interrupted.
///
/// # Errors
/// When the build fails, or no port is free.
pub fn run(port: u16, open: bool) -> Result<()> {
    site::build(Finish::Quick)?;
    let server = on_a_free_port(port)?;
    let url = server.url();
    println!("Rowlight is at {url} (Ctrl+C ends it)");
    if open {
        show(&url);
    }
    server.wait();
    Ok(())
}

fn on_a_free_port(port: u16) -> Result<Server> {
    let dist = workspace::dist();
    for tried in port..=port.saturating_add(TRIES) {
        match Server::start(&dist, Settings { port: tried, ..Settings::default() }) {
            Ok(server) => return Ok(server),
            Err(reason) => println!("{reason}; trying the next one."),
        }
    }
    Err(anyhow!("no free port from {port} on; name one with --port"))
}

fn show(url: &str) {
    let (program, before): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(windows) {
        ("cmd", &["/C", "start", ""])
    } else {
        ("xdg-open", &[])
    };
    if let Err(reason) = Command::new(program).args(before).arg(url).spawn() {
        println!("No browser could be opened ({program}: {reason}).");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::{Read, Write};
    use std::net::TcpStream;

    fn ask(server: &Server, request: &str) -> Result<String> {
        let mut stream = TcpStream::connect(server.address)?;
        write!(stream, "{request} HTTP/1.1\r\nHost: here\r\nConnection: close\r\n\r\n")?;
        let mut answer = String::new();
        stream.read_to_string(&mut answer)?;
        Ok(answer)
    }

    #[test]
    fn answers() -> Result<()> {
        let outside = std::env::temp_dir().join(format!("rowlight-serve-{}", std::process::id()));
        let folder = outside.join("site");
        fs::create_dir_all(folder.join("deep"))?;
        fs::write(outside.join("secret.txt"), "secret")?;
        fs::write(folder.join(".hidden"), "secret")?;
        fs::write(folder.join("index.html"), "front")?;
        fs::write(folder.join("a b.wasm"), "wasm")?;
        fs::write(folder.join("deep/index.html"), "deep page")?;
        let answers = BTreeMap::from([("/field/host.html".into(), plain(503, "prepared"))]);
        let server =
            Server::start(&folder, Settings { under: "/field/".into(), answers, ..Settings::default() })?;
        let cases: &[(&str, &str, &[&str])] = &[
            ("GET /field/", "200", &["front", "text/html; charset=utf-8", POLICY, "no-store", "nosniff"]),
            ("GET /field/?q=1", "200", &["front"]),
            ("GET /field/a%20b.wasm", "200", &["content-type: application/wasm", "content-length: 4"]),
            ("HEAD /field/a%20b.wasm", "200", &["content-length: 4\r\n"]),
            ("GET /field/deep", "301", &["location: /field/deep/"]),
            ("GET /field/deep/", "200", &["deep page"]),
            ("GET /field/host.html", "503", &["prepared"]),
            ("GET /", "404", &[]),
            ("GET /field/none", "404", &[]),
            ("GET /field/../secret.txt", "404", &[]),
            ("GET /field/%2e%2e/secret.txt", "404", &[]),
            ("GET /field/..%2fsecret.txt", "404", &[]),
            ("GET /field/..%5csecret.txt", "404", &[]),
            ("GET /field/.hidden", "404", &[]),
            ("GET /field/%zz", "404", &[]),
            ("POST /field/", "405", &["allow: GET, HEAD"]),
        ];
        for (request, status, parts) in cases {
            let answer = ask(&server, request)?;
            assert!(answer.starts_with(&format!("HTTP/1.1 {status}")), "{request}: {answer}");
            for part in *parts {
                assert!(answer.contains(part), "{request}: no {part} in {answer}");
            }
            assert!(!answer.contains("secret"), "{request}: {answer}");
            assert!(
                !request.starts_with("HEAD") || answer.ends_with("\r\n\r\n"),
                "{request} has a body: {answer}"
            );
        }
        drop(server);
        fs::remove_dir_all(outside)?;
        Ok(())
    }

    #[test]
    fn a_busy_port_is_an_error_that_names_it() -> Result<()> {
        let folder = std::env::temp_dir();
        let first = Server::start(&folder, Settings::default())?;
        let port = first.address.port();
        let second = Server::start(&folder, Settings { port, ..Settings::default() });
        assert!(second.is_err_and(|reason| reason.to_string().contains(&port.to_string())));
        Ok(())
    }
}
