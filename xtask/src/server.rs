//! A small web server for this machine only: what is asked of it, and what it answers.
//!
//! It knows nothing of building. The answers come from a [`House`]; the parsing of HTTP from `tiny_http`.

use crate::policy::POLICY;
use anyhow::{Result, anyhow, bail};
use std::{io, net::Ipv4Addr, thread};
use tiny_http::{Header, Method, Request, Response};

/// How many ports are tried from the one wished for.
const PORTS: u16 = 100;
/// How many requests are answered at once.
const WORKERS: usize = 4;

/// What a server answers from.
pub(crate) trait House: Sync {
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
    Events(Box<dyn FnOnce(Box<dyn io::Write + Send>) + Send>),
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
pub(crate) struct Server {
    http: tiny_http::Server,
    port: u16,
    manner: Manner,
}

impl Server {
    /// Takes the first free port from `wished` on; any free one for 0.
    ///
    /// # Errors
    /// When none is free.
    pub(crate) fn bind(wished: u16, manner: Manner) -> Result<Self> {
        for port in wished..=wished.saturating_add(PORTS) {
            match tiny_http::Server::http((Ipv4Addr::LOCALHOST, port)) {
                Ok(http) => {
                    let port = http.server_addr().to_ip().ok_or_else(|| anyhow!("the server has no port"))?.port();
                    return Ok(Self { http, port, manner });
                }
                Err(error) => match error.downcast_ref::<io::Error>().map(io::Error::kind) {
                    Some(io::ErrorKind::AddrInUse) => {}
                    _ => bail!("cannot listen on port {port}: {error}"),
                },
            }
        }
        bail!("no free port between {wished} and {}", wished.saturating_add(PORTS))
    }

    /// The port it listens on.
    pub(crate) fn port(&self) -> u16 {
        self.port
    }

    /// The address of the page.
    pub(crate) fn url(&self) -> String {
        format!("http://127.0.0.1:{}{}", self.port, self.manner.under)
    }

    /// Answers requests until [`Server::stop`].
    pub(crate) fn run(&self, house: &impl House) {
        thread::scope(|scope| {
            for _ in 0..WORKERS {
                scope.spawn(|| {
                    while let Ok(request) = self.http.recv() {
                        self.answer(request, house);
                    }
                });
            }
        });
    }

    /// Makes [`Server::run`] return.
    pub(crate) fn stop(&self) {
        for _ in 0..WORKERS {
            self.http.unblock();
        }
    }

    fn answer(&self, request: Request, house: &impl House) {
        let header = |name: &'static str| {
            request.headers().iter().find(|header| header.field.equiv(name)).map(|header| header.value.as_str())
        };
        let takes_brotli =
            header("Accept-Encoding").is_some_and(|value| value.split(',').any(|part| part.trim() == "br"));
        let answer = match find(self.manner, self.port, request.method(), header("Host"), request.url()) {
            Ok(address) => house.at(address, takes_brotli),
            Err((status, text)) => return respond(request, self.plain(status, text)),
        };
        match answer {
            Answer::File { bytes, kind, brotli } => {
                let mut response = self.dressed(Response::from_data(bytes), kind);
                if brotli {
                    response.add_header(field("Content-Encoding", "br"));
                }
                response.add_header(field("Vary", "Accept-Encoding"));
                respond(request, response);
            }
            Answer::Missing => respond(request, self.plain(404, "There is nothing at this address.\n")),
            Answer::Events(take) => {
                let mut writer = request.into_writer();
                let head = "HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\nCache-Control: no-store\r\n\
                            Connection: close\r\n\r\n";
                if writer.write_all(head.as_bytes()).is_ok() {
                    take(writer);
                }
            }
        }
    }

    fn plain(&self, status: u16, text: &str) -> Response<io::Cursor<Vec<u8>>> {
        self.dressed(Response::from_string(text), "text/plain; charset=utf-8").with_status_code(status)
    }

    fn dressed(&self, response: Response<io::Cursor<Vec<u8>>>, kind: &str) -> Response<io::Cursor<Vec<u8>>> {
        let mut response = response
            .with_header(field("Content-Type", kind))
            .with_header(field("Cache-Control", "no-cache"))
            .with_header(field("X-Content-Type-Options", "nosniff"))
            .with_header(field("Referrer-Policy", "no-referrer"))
            // With a length known the answer need not be cut into pieces.
            .with_chunked_threshold(usize::MAX);
        if self.manner.policy {
            response.add_header(field("Content-Security-Policy", POLICY));
        }
        response
    }
}

/// The address below the page's folder that is asked for, or why it is not answered.
fn find<'a>(
    manner: Manner,
    port: u16,
    method: &Method,
    host: Option<&str>,
    url: &'a str,
) -> Result<&'a str, (u16, &'static str)> {
    let own_names = [format!("127.0.0.1:{port}"), format!("localhost:{port}")];
    if manner.own_name_only && !host.is_some_and(|host| own_names.iter().any(|own| own == host)) {
        return Err((421, "This server answers only to 127.0.0.1 and localhost.\n"));
    }
    if !matches!(method, Method::Get | Method::Head) {
        return Err((405, "Only GET and HEAD are answered.\n"));
    }
    let path = url.split_once('?').map_or(url, |(path, _)| path);
    path.strip_prefix(manner.under).ok_or((404, "There is nothing at this address.\n"))
}

fn respond(request: Request, response: Response<io::Cursor<Vec<u8>>>) {
    // A browser that left before the answer was written is no fault of ours.
    drop(request.respond(response));
}

fn field(name: &'static str, value: &str) -> Header {
    Header::from_bytes(name, value).expect("the names and values are ours, and ASCII")
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

    #[track_caller]
    fn check(manner: Manner, method: &Method, host: Option<&str>, url: &str, expected: Result<&str, u16>) {
        assert_eq!(find(manner, 8080, method, host, url).map_err(|(status, _)| status), expected);
    }

    #[test]
    fn only_this_machine_by_name_and_port_is_answered() {
        let get = &Method::Get;
        check(Manner::STRICT, get, Some("127.0.0.1:8080"), "/", Ok(""));
        check(Manner::STRICT, get, Some("localhost:8080"), "/app.js?x=1", Ok("app.js"));
        for host in [None, Some("localhost"), Some("localhost:81"), Some("elsewhere.example:8080")] {
            check(Manner::STRICT, get, host, "/", Err(421));
        }
        check(Manner::PLAIN_HOST, get, Some("elsewhere.example"), "/training/room-2/", Ok(""));
    }

    #[test]
    fn only_reading_is_answered() {
        check(Manner::STRICT, &Method::Head, Some("localhost:8080"), "/", Ok(""));
        check(Manner::STRICT, &Method::Post, Some("localhost:8080"), "/", Err(405));
    }

    #[test]
    fn outside_of_its_folder_there_is_nothing() {
        for url in ["/", "/training", "/index.html", "http://elsewhere.example/"] {
            check(Manner::PLAIN_HOST, &Method::Get, None, url, Err(404));
        }
    }

    #[test]
    fn a_busy_port_is_passed_over() {
        let first = Server::bind(0, Manner::STRICT).unwrap();
        let second = Server::bind(first.port(), Manner::STRICT).unwrap();
        assert!(second.port() > first.port());
    }
}
