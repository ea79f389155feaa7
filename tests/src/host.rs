//! A static file host on a free port of this machine: what any host of `dist` does, and no more. It can be cut off, to prove
//! that the page works without it, and it can change what it serves, to be a host that is being updated.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead, BufReader, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::{self, JoinHandle};
use std::{fs, io};

use crate::dist::dist;

/// A running host. It stops when dropped.
pub struct Host {
    address: SocketAddr,
    shared: Arc<Mutex<Shared>>,
    thread: Option<JoinHandle<()>>,
}

struct Shared {
    root: PathBuf,
    replaced: BTreeMap<String, Vec<u8>>,
    broken: BTreeSet<String>,
    requests: Vec<String>,
    open: bool,
}

impl Host {
    /// Serves the built page.
    #[must_use]
    #[track_caller]
    pub fn of_dist() -> Self {
        Self::of(&dist())
    }

    /// Serves a folder.
    ///
    /// # Panics
    /// When this machine has no free port.
    #[must_use]
    #[track_caller]
    pub fn of(root: &Path) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").expect("this machine has a free port");
        let address = listener.local_addr().expect("a bound listener has an address");
        let shared = Shared {
            root: root.into(),
            replaced: BTreeMap::new(),
            broken: BTreeSet::new(),
            requests: Vec::new(),
            open: true,
        };
        let shared = Arc::new(Mutex::new(shared));
        let thread = Some(accept(listener, Arc::clone(&shared)));
        Self { address, shared, thread }
    }

    /// The origin it serves, without a slash at the end. `localhost`, because browsers trust that name like https.
    #[must_use]
    pub fn origin(&self) -> String {
        format!("http://localhost:{}", self.address.port())
    }

    /// The paths asked for since the start, in order.
    #[must_use]
    pub fn requests(&self) -> Vec<String> {
        lock(&self.shared).requests.clone()
    }

    /// From now on serves another folder, as a host does after an update.
    pub fn change_to(&self, root: &Path) {
        lock(&self.shared).root = root.into();
    }

    /// From now on answers `path` (such as `/boot.js`) with these bytes.
    pub fn replace(&self, path: &str, bytes: impl Into<Vec<u8>>) {
        lock(&self.shared).replaced.insert(path.into(), bytes.into());
    }

    /// From now on breaks off in the middle of `path`, as a network does that goes away; or no longer does.
    pub fn break_off(&self, path: &str, broken: bool) {
        let mut shared = lock(&self.shared);
        if broken {
            shared.broken.insert(path.into())
        } else {
            shared.broken.remove(path)
        };
    }

    /// Closes the port: from now on there is no network to this host.
    ///
    /// # Panics
    /// When the serving thread panicked.
    pub fn cut(&mut self) {
        lock(&self.shared).open = false;
        // Wakes the thread, which waits for a caller.
        let _ = TcpStream::connect(self.address);
        if let Some(thread) = self.thread.take() {
            thread.join().expect("the host's thread ends by itself");
        }
    }

    /// Opens the same port again.
    ///
    /// # Panics
    /// When the port was taken meanwhile.
    #[track_caller]
    pub fn mend(&mut self) {
        self.cut();
        lock(&self.shared).open = true;
        let listener = TcpListener::bind(self.address).expect("the host's port is still free");
        self.thread = Some(accept(listener, Arc::clone(&self.shared)));
    }
}

impl Drop for Host {
    fn drop(&mut self) {
        self.cut();
    }
}

// A thread that panicked while it held the lock left plain data behind, which is still good.
fn lock(shared: &Mutex<Shared>) -> MutexGuard<'_, Shared> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

fn accept(listener: TcpListener, shared: Arc<Mutex<Shared>>) -> JoinHandle<()> {
    thread::spawn(move || {
        for stream in listener.incoming().flatten() {
            if !lock(&shared).open {
                return;
            }
            let shared = Arc::clone(&shared);
            // A browser that hangs up early is no concern of the host's.
            thread::spawn(move || answer(&stream, &shared).ok());
        }
    })
}

fn answer(mut stream: &TcpStream, shared: &Mutex<Shared>) -> io::Result<()> {
    let mut lines = BufReader::new(stream).lines();
    let request = lines.next().transpose()?.unwrap_or_default();
    // The headers say nothing that a plain host heeds.
    for line in lines {
        if line?.is_empty() {
            break;
        }
    }
    let mut words = request.split(' ');
    let (Some(method), Some(target)) = (words.next(), words.next()) else { return Ok(()) };
    let path = target.split(['?', '#']).next().unwrap_or_default();
    let (found, broken) = {
        let mut shared = lock(shared);
        shared.requests.push(path.into());
        let found = shared.replaced.get(path).cloned().or_else(|| read(&shared.root, path));
        (found, shared.broken.contains(path))
    };
    let (status, bytes) = found.map_or(("404 Not Found", Vec::new()), |bytes| ("200 OK", bytes));
    write!(
        stream,
        "HTTP/1.1 {status}\r\nContent-Type: {}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
        media_type(path),
        bytes.len()
    )?;
    if method != "HEAD" {
        let end = if broken { bytes.len() / 2 } else { bytes.len() };
        stream.write_all(bytes.get(..end).unwrap_or_default())?;
    }
    stream.flush()
}

fn read(root: &Path, path: &str) -> Option<Vec<u8>> {
    let relative = Path::new(path.strip_prefix('/')?);
    let plain = relative.components().all(|part| matches!(part, Component::Normal(_)));
    let file = if path.ends_with('/') { root.join(relative).join("index.html") } else { root.join(relative) };
    if plain { fs::read(file).ok() } else { None }
}

fn media_type(path: &str) -> &'static str {
    match path.rsplit_once('.').map_or("html", |(_, ending)| ending) {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "csv" => "text/csv; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;

    #[track_caller]
    fn ask(host: &Host, request: &str) -> String {
        let mut stream = TcpStream::connect(host.address).expect("the host listens");
        write!(stream, "{request} HTTP/1.1\r\nHost: localhost\r\n\r\n").expect("the host reads");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("the host answers");
        answer
    }

    fn crate_folder() -> Host {
        Host::of(Path::new(env!("CARGO_MANIFEST_DIR")))
    }

    #[test]
    fn serves_what_is_there_and_nothing_outside() {
        let host = crate_folder();
        assert!(ask(&host, "GET /src/host.rs?x=1").contains("nothing outside"));
        assert!(ask(&host, "GET /absent.js").starts_with("HTTP/1.1 404"));
        assert!(ask(&host, "GET /../Cargo.toml").starts_with("HTTP/1.1 404"));
        assert_eq!(host.requests(), ["/src/host.rs", "/absent.js", "/../Cargo.toml"]);
    }

    #[test]
    fn names_the_kind_of_what_it_serves() {
        let host = crate_folder();
        host.replace("/app_bg.wasm", *b"\0asm");
        let answer = ask(&host, "GET /app_bg.wasm");
        assert!(answer.contains("Content-Type: application/wasm\r\n"), "{answer}");
        assert!(answer.ends_with("\r\n\r\n\0asm"), "{answer}");
    }

    #[test]
    fn breaks_off_where_it_is_told_to() {
        let host = crate_folder();
        host.replace("/a.txt", *b"abcdef");
        host.break_off("/a.txt", true);
        assert!(ask(&host, "GET /a.txt").ends_with("Content-Length: 6\r\nConnection: close\r\n\r\nabc"));
        host.break_off("/a.txt", false);
        assert!(ask(&host, "GET /a.txt").ends_with("abcdef"));
    }

    #[test]
    fn can_be_cut_off_and_mended() {
        let mut host = crate_folder();
        host.cut();
        assert!(TcpStream::connect(host.address).is_err());
        host.mend();
        assert!(ask(&host, "GET /Cargo.toml").starts_with("HTTP/1.1 200"));
    }
}
