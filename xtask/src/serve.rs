//! The page while it is worked on: build, serve, and again on every change.

use crate::{
    browser, cargo,
    cargo::Profile,
    dist,
    live::{Live, Stage},
    modules,
    server::{Manner, Server},
    shelf::Shelf,
    site::{self, Naming, Site},
    texts::{self, Texts},
    tools,
    watch::Watch,
};
use anyhow::Result;
use std::time::Instant;

/// The port when none is wished for.
const PORT: u16 = 8080;

/// What was asked for.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Wish {
    /// The first port to try.
    pub(crate) port: Option<u16>,
    /// Leave the browser alone.
    pub(crate) no_open: bool,
    /// Serve what `dist` made, and build nothing.
    pub(crate) dist: bool,
}

/// Serves until it is interrupted.
///
/// # Errors
/// When no port is free, or there is nothing to serve and no way to build it.
pub(crate) fn serve(wish: Wish) -> Result<()> {
    let port = wish.port.unwrap_or(PORT);
    let server = Server::bind(port, Manner::STRICT)?;
    if port != 0 && server.port() != port {
        println!("port {port} is busy, taking {}", server.port());
    }
    let url = server.url();
    println!("{url}   (stop with Ctrl-C)");
    if wish.dist {
        let serving = server.start(Shelf(site::read(&dist::folder())?));
        show(wish, &url);
        // It serves until the program is stopped from outside.
        drop(serving.join());
        return Ok(());
    }
    let live = Live::new();
    let watch = Watch::start()?;
    drop(server.start(live.clone()));
    show(wish, &url);
    tools::wasm_target()?;
    keep_building(&live, &watch);
    Ok(())
}

fn show(wish: Wish, url: &str) {
    if !wish.no_open {
        browser::open(url);
    }
}

fn keep_building(live: &Live, watch: &Watch) {
    build(live, Ok(texts::for_developers()));
    while watch.wait() {
        live.tell(Stage::Building("texts".to_owned()));
        build(live, texts::fresh());
    }
}

/// Builds and shows the page, or what the compiler has against it.
fn build(live: &Live, texts: Result<Texts>) {
    let start = Instant::now();
    match texts.and_then(|texts| gather(live, &texts)) {
        Ok(site) => {
            live.replace(site);
            println!("ready after {:.1} s", start.elapsed().as_secs_f32());
        }
        Err(error) => {
            println!("not built, the page stays as it was");
            live.tell(Stage::Broken(format!("{error:#}")));
        }
    }
}

fn gather(live: &Live, texts: &Texts) -> Result<Site> {
    let modules = modules::build(Profile::Dev, modules::all(), &mut |line| {
        if cargo::is_progress(line) {
            live.tell(Stage::Building(line.trim().to_owned()));
        } else {
            eprintln!("{line}");
        }
    })?;
    site::gather(modules, texts, Naming::Plain)
}
