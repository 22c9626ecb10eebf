//! A small web server for this machine only: what is asked of it, and what it answers.
//!
//! It knows nothing of building; the answers come from a [`House`]. Every connection has a thread of its own, because a
//! browser holds connections open without asking anything, and none of them may keep another waiting. Only GET and
//! HEAD are understood, and no request has a body.

use crate::policy::POLICY;
use anyhow::{Context as _, Result, bail};
use std::{
    fmt::Write as _,
    io::{self, Read as _, Write},
    net::{Ipv4Addr, TcpListener, TcpStream},
    sync::Arc,
    thread::{self, JoinHandle},
};

/// How many ports are tried from the one wished for.
const PORTS: u16 = 100;
/// The longest head of a request, in bytes.
const HEAD_LIMIT: usize = 16 * 1024;
/// The most header fields in a request.
const FIELDS: usize = 64;

/// What a server answers from.
pub(crate) trait House: Send + Sync + 'static {
    /// What lies at an address below the page's folder; the page itself is at the empty one.
    fn at(&self, address: &str, takes_brotli: bool) -> Answer;
}

/// The answer to a request.
pub(crate) enum Answer {
    /// A whole file.
    File {
        /// Its content.
        bytes: Vec<u8>,
        /// Its media type.
        kind: &'static str,
        /// Whether the content is packed with brotli.
        brotli: bool,
    },
    /// There is nothing.
    Missing,
    /// A stream of events: the connection is handed over.
    Events(Box<dyn FnOnce(TcpStream)>),
}

/// How a server behaves.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Manner {
    /// The folder that the page is in, from the root: `/` or `/some/where/`.
    pub(crate) under: &'static str,
    /// Whether the policy goes along as a header, or the page has to do with its own `meta`.
    pub(crate) policy: bool,
    /// Whether only requests addressed to this machine by name are answered, which keeps other sites out that had
    /// their own name point here.
    pub(crate) own_name_only: bool,
}

impl Manner {
    /// How a developer's server behaves.
    pub(crate) const STRICT: Self = Self { under: "/", policy: true, own_name_only: true };
    /// How the plainest web host behaves: in a folder, no header of ours, under any name.
    pub(crate) const PLAIN_HOST: Self = Self { under: "/training/room-2/", policy: false, own_name_only: false };
}

/// A server that listens on the loopback address.
#[derive(Debug)]
pub(crate) struct Server {
    listener: TcpListener,
    port: u16,
    manner: Manner,
}

impl Server {
    /// Takes the first free port from `wished` on; any free one for 0.
    ///
    /// # Errors
    /// When none is free.
    pub(crate) fn bind(wished: u16, manner: Manner) -> Result<Self> {
        let last = wished.saturating_add(PORTS);
        for port in wished..=last {
            match TcpListener::bind((Ipv4Addr::LOCALHOST, port)) {
                Ok(listener) => {
                    let port = listener.local_addr()?.port();
                    return Ok(Self { listener, port, manner });
                }
                Err(error) if error.kind() == io::ErrorKind::AddrInUse => {}
                Err(error) => return Err(error).with_context(|| format!("cannot listen on port {port}")),
            }
        }
        bail!("no free port between {wished} and {last}")
    }

    /// The port it listens on.
    pub(crate) fn port(&self) -> u16 {
        self.port
    }

    /// The address of the page.
    pub(crate) fn url(&self) -> String {
        format!("http://127.0.0.1:{}{}", self.port, self.manner.under)
    }

    /// Answers from now on, until the program ends.
    pub(crate) fn start(self, house: impl House) -> JoinHandle<()> {
        let house = Arc::new(house);
        thread::spawn(move || {
            for stream in self.listener.incoming().filter_map(Result::ok) {
                let house = Arc::clone(&house);
                let talk = Talk { port: self.port, manner: self.manner };
                // A browser that left before the answer was written is no fault of ours.
                thread::spawn(move || talk.hold(stream, &*house).ok());
            }
        })
    }
}

/// One connection's view of its server.
#[derive(Clone, Copy)]
struct Talk {
    port: u16,
    manner: Manner,
}

/// What matters of a request.
struct Asked {
    method: String,
    url: String,
    host: Option<String>,
    takes_brotli: bool,
}

impl Talk {
    /// Answers one request after another until the browser is done.
    fn hold(self, mut stream: TcpStream, house: &impl House) -> io::Result<()> {
        // Each answer is written at once; nothing is gained by waiting for more.
        stream.set_nodelay(true)?;
        let mut buffer = Vec::new();
        loop {
            let asked = match listen(&mut stream, &mut buffer)? {
                Some(Ok(asked)) => asked,
                Some(Err(())) => {
                    return self.refuse(&mut stream, 400, "This is no request that is understood here.\n", true);
                }
                None => return Ok(()),
            };
            let with_body = asked.method != "HEAD";
            match find(self.manner, self.port, &asked) {
                Err((405, text)) => return self.refuse(&mut stream, 405, text, with_body),
                Err((status, text)) => self.refuse(&mut stream, status, text, with_body)?,
                Ok(address) => match house.at(address, asked.takes_brotli) {
                    Answer::File { bytes, kind, brotli } => {
                        self.write(&mut stream, 200, kind, brotli, &bytes, with_body)?;
                    }
                    Answer::Missing => self.refuse(&mut stream, 404, NOTHING, with_body)?,
                    Answer::Events(take) => {
                        let head =
                            "HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\nCache-Control: no-store\r\n\r\n";
                        stream.write_all(head.as_bytes())?;
                        take(stream);
                        return Ok(());
                    }
                },
            }
        }
    }

    fn refuse(self, stream: &mut TcpStream, status: u16, text: &str, with_body: bool) -> io::Result<()> {
        self.write(stream, status, "text/plain; charset=utf-8", false, text.as_bytes(), with_body)
    }

    fn write(
        self,
        stream: &mut TcpStream,
        status: u16,
        kind: &str,
        brotli: bool,
        bytes: &[u8],
        with_body: bool,
    ) -> io::Result<()> {
        let mut head = format!(
            "HTTP/1.1 {status} {}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nCache-Control: no-cache\r\n\
             Vary: Accept-Encoding\r\nX-Content-Type-Options: nosniff\r\nReferrer-Policy: no-referrer\r\n",
            reason(status),
            bytes.len(),
        );
        if brotli {
            head.push_str("Content-Encoding: br\r\n");
        }
        if self.manner.policy {
            let _ = write!(head, "Content-Security-Policy: {POLICY}\r\n");
        }
        head.push_str("\r\n");
        stream.write_all(head.as_bytes())?;
        if with_body { stream.write_all(bytes) } else { Ok(()) }
    }
}

const NOTHING: &str = "There is nothing at this address.\n";

fn reason(status: u16) -> &'static str {
    match status {
        200 => "OK",
        400 => "Bad Request",
        404 => "Not Found",
        405 => "Method Not Allowed",
        421 => "Misdirected Request",
        _ => "",
    }
}

/// Reads the next request; `None` when the browser has closed the connection, an error when it is no request.
fn listen(stream: &mut TcpStream, buffer: &mut Vec<u8>) -> io::Result<Option<Result<Asked, ()>>> {
    loop {
        match parse(buffer) {
            Ok(Some((asked, length))) => {
                buffer.drain(..length);
                return Ok(Some(Ok(asked)));
            }
            Ok(None) if buffer.len() < HEAD_LIMIT => {}
            Ok(None) | Err(_) => return Ok(Some(Err(()))),
        }
        let mut piece = [0; 4096];
        match stream.read(&mut piece)? {
            0 => return Ok(None),
            length => buffer.extend_from_slice(&piece[..length]),
        }
    }
}

/// A whole head of a request and its length, or `None` when more must be read.
fn parse(bytes: &[u8]) -> Result<Option<(Asked, usize)>, httparse::Error> {
    let mut fields = [httparse::EMPTY_HEADER; FIELDS];
    let mut request = httparse::Request::new(&mut fields);
    let httparse::Status::Complete(length) = request.parse(bytes)? else { return Ok(None) };
    let field = |name: &str| {
        let field = request.headers.iter().find(|field| field.name.eq_ignore_ascii_case(name))?;
        String::from_utf8(field.value.to_vec()).ok()
    };
    let asked = Asked {
        method: request.method.unwrap_or_default().to_owned(),
        url: request.path.unwrap_or_default().to_owned(),
        host: field("Host"),
        takes_brotli: field("Accept-Encoding").is_some_and(|value| value.split(',').any(|part| part.trim() == "br")),
    };
    Ok(Some((asked, length)))
}

/// The address below the page's folder that is asked for, or why it is not answered.
fn find(manner: Manner, port: u16, asked: &Asked) -> Result<&str, (u16, &'static str)> {
    let own_names = [format!("127.0.0.1:{port}"), format!("localhost:{port}")];
    if manner.own_name_only && !asked.host.as_ref().is_some_and(|host| own_names.contains(host)) {
        return Err((421, "This server answers only to 127.0.0.1 and localhost.\n"));
    }
    if !["GET", "HEAD"].contains(&asked.method.as_str()) {
        return Err((405, "Only GET and HEAD are answered.\n"));
    }
    let path = asked.url.split_once('?').map_or(asked.url.as_str(), |(path, _)| path);
    path.strip_prefix(manner.under).ok_or((404, NOTHING))
}

/// The media type of a file by its name's ending.
pub(crate) fn kind_of(address: &str) -> &'static str {
    match address.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "css" => "text/css; charset=utf-8",
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "json" => "application/json",
        "png" => "image/png",
        "svg" => "image/svg+xml",
        "txt" => "text/plain; charset=utf-8",
        "wasm" => "application/wasm",
        "webmanifest" => "application/manifest+json",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    #[track_caller]
    fn check(manner: Manner, method: &str, host: Option<&str>, url: &str, expected: Result<&str, u16>) {
        let host = host.map(str::to_owned);
        let asked = Asked { method: method.to_owned(), url: url.to_owned(), host, takes_brotli: false };
        assert_eq!(find(manner, 8080, &asked).map_err(|(status, _)| status), expected);
    }

    #[test]
    fn only_this_machine_by_name_and_port_is_answered() {
        check(Manner::STRICT, "GET", Some("127.0.0.1:8080"), "/", Ok(""));
        check(Manner::STRICT, "GET", Some("localhost:8080"), "/app.js?x=1", Ok("app.js"));
        for host in [None, Some("localhost"), Some("localhost:81"), Some("elsewhere.example:8080")] {
            check(Manner::STRICT, "GET", host, "/", Err(421));
        }
        check(Manner::PLAIN_HOST, "GET", Some("elsewhere.example"), "/training/room-2/", Ok(""));
    }

    #[test]
    fn only_reading_is_answered() {
        check(Manner::STRICT, "HEAD", Some("localhost:8080"), "/", Ok(""));
        check(Manner::STRICT, "POST", Some("localhost:8080"), "/", Err(405));
    }

    #[test]
    fn outside_of_its_folder_there_is_nothing() {
        for url in ["/", "/training", "/index.html", "http://elsewhere.example/"] {
            check(Manner::PLAIN_HOST, "GET", None, url, Err(404));
        }
    }

    #[test]
    fn a_busy_port_is_passed_over() {
        let first = Server::bind(0, Manner::STRICT).unwrap();
        let second = Server::bind(first.port(), Manner::STRICT).unwrap();
        assert!(second.port() > first.port());
    }

    struct Echo;

    impl House for Echo {
        fn at(&self, address: &str, _takes_brotli: bool) -> Answer {
            Answer::File { bytes: address.into(), kind: "text/plain", brotli: false }
        }
    }

    fn ask(stream: &mut TcpStream, text: &str) -> String {
        stream.set_read_timeout(Some(Duration::from_secs(10))).unwrap();
        stream.write_all(text.as_bytes()).unwrap();
        let mut answer = [0; 4096];
        let length = stream.read(&mut answer).unwrap();
        String::from_utf8_lossy(&answer[..length]).into_owned()
    }

    #[test]
    fn silent_connections_keep_nobody_waiting() {
        let server = Server::bind(0, Manner::PLAIN_HOST).unwrap();
        let address = (Ipv4Addr::LOCALHOST, server.port());
        drop(server.start(Echo));
        let silent: Vec<_> = (0..50).map(|_| TcpStream::connect(address).unwrap()).collect();
        let mut stream = TcpStream::connect(address).unwrap();
        for _ in 0..2 {
            assert!(ask(&mut stream, "HEAD /training/room-2/a HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 200 OK\r\n"));
        }
        drop(silent);
    }

    #[test]
    fn what_is_no_request_is_refused_and_a_head_without_end_is_cut_off() {
        let server = Server::bind(0, Manner::PLAIN_HOST).unwrap();
        let address = (Ipv4Addr::LOCALHOST, server.port());
        drop(server.start(Echo));
        let endless = format!("GET /{}", "a".repeat(HEAD_LIMIT));
        for text in ["\u{1}\u{2}\r\n\r\n", endless.as_str()] {
            let mut stream = TcpStream::connect(address).unwrap();
            assert!(ask(&mut stream, text).starts_with("HTTP/1.1 400 "), "{text:.20}");
        }
    }
}
