//! The site as a value: every file of it under its address.
//!
//! It is held in memory, so a half-written site is never served, and an address that is not in it does not exist,
//! whatever lies on the disk.

use crate::{
    folders,
    modules::{Listed, Module},
    offline, policy,
    texts::{Questions, Texts},
    wasm::Bound,
};
use anyhow::{Context as _, Result, bail};
use serde_json::{Value, json};
use std::{
    collections::BTreeMap,
    fs,
    hash::{DefaultHasher, Hasher as _},
    path::Path,
};

/// The page itself.
pub(crate) const PAGE: &str = "index.html";

/// What is drawn on the first screen, and where it goes in the page.
const DRAWING: &str = "welcome.svg";
const DRAWING_MARK: &str = "<!-- welcome -->";
/// Where the policy goes in the page.
const POLICY_MARK: &str = "<!-- policy -->";
/// Where the page is told the names of its parts.
const SITE_MARK: &str = "<!-- site -->";
/// Where the page says in every language that it needs scripts.
const NOSCRIPT_MARK: &str = "<!-- noscript -->";
/// The language in which the page stands until `boot.js` has chosen.
const FIRST: &str = "en";

/// Every file of the site, by its address below the page.
pub(crate) type Site = BTreeMap<String, Vec<u8>>;

/// How files are called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Naming {
    /// As in the repository.
    Plain,
    /// With a hash of the content, so that a host may let browsers keep them for ever.
    Hashed,
}

/// Puts the site together from the modules, the words, `static/` and `index.html`.
///
/// # Errors
/// When a file is missing or the page has no place for what must go into it.
pub(crate) fn gather(modules: Vec<Module>, texts: &Texts, naming: Naming) -> Result<Site> {
    let root = folders::root();
    let read_text = |name: &str| fs::read_to_string(root.join(name)).with_context(|| format!("cannot read {name}"));
    let page = put(&read_text(PAGE)?, DRAWING_MARK, &read_text(DRAWING)?)?;
    assemble(&page, read(&root.join("static"))?, modules, texts, naming)
}

/// Reads a folder as a site.
///
/// # Errors
/// When the folder or a file in it cannot be read.
pub(crate) fn read(folder: &Path) -> Result<Site> {
    let mut site = Site::new();
    read_into(&mut site, folder, "")?;
    Ok(site)
}

fn read_into(site: &mut Site, folder: &Path, prefix: &str) -> Result<()> {
    for entry in fs::read_dir(folder).with_context(|| format!("cannot read {}", folder.display()))? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let address = format!("{prefix}{name}");
        if name.starts_with('.') {
            continue;
        }
        if entry.file_type()?.is_dir() {
            read_into(site, &entry.path(), &format!("{address}/"))?;
        } else {
            let bytes = fs::read(entry.path()).with_context(|| format!("cannot read {}", entry.path().display()))?;
            site.insert(address, bytes);
        }
    }
    Ok(())
}

fn assemble(page: &str, mut statics: Site, modules: Vec<Module>, texts: &Texts, naming: Naming) -> Result<Site> {
    let name = |address: &str, bytes: &[u8]| match naming {
        Naming::Plain => address.to_owned(),
        Naming::Hashed => with_hash(address, hash([bytes])),
    };
    let mut page = with_texts(page, &texts.shell);
    if let Some((_, unknown)) = page.split_once("{shell.") {
        bail!("index.html asks for shell.{}, which no language has", unknown.split('}').next().unwrap_or_default());
    }
    let mut site = Site::new();
    // Its name is the one thing that browsers come back for, so it carries no hash. Where the page is worked on there is none.
    let worker = statics.remove(offline::WORKER).filter(|_| naming == Naming::Hashed);
    let mut icons = BTreeMap::new();
    for (address, bytes) in statics {
        if address.ends_with(".css") && names_a_file(&bytes) {
            bail!("static/{address} names another file, whose name would be wrong once it carries a hash");
        }
        let named = name(&address, &bytes);
        page = page.replace(&format!("=\"{address}\""), &format!("=\"{named}\""));
        site.insert(named.clone(), bytes);
        icons.insert(address, named);
    }
    let mut manifests = BTreeMap::new();
    for (tag, texts) in &texts.shell {
        let (address, json) = (format!("manifest-{tag}.webmanifest"), offline::manifest(tag, texts, &icons));
        let named = name(&address, json.as_bytes());
        page = page.replace(&format!("=\"{address}\""), &format!("=\"{named}\""));
        site.insert(named.clone(), json.into_bytes());
        manifests.insert(tag, named);
    }
    let mut languages = [BTreeMap::new(), BTreeMap::new()];
    for (listed, (folder, texts)) in languages.iter_mut().zip([("words", &texts.words), ("more", &texts.more)]) {
        for (tag, json) in texts {
            let named = name(&format!("{folder}/{tag}.json"), json.as_bytes());
            listed.insert(tag, named.clone());
            site.insert(named, json.clone().into_bytes());
        }
    }
    let [words, more] = languages;
    let scenarios = name("scenarios.json", texts.scenarios.as_bytes());
    site.insert(scenarios.clone(), texts.scenarios.clone().into_bytes());
    let offered = name("offered.json", texts.offered.as_bytes());
    site.insert(offered.clone(), texts.offered.clone().into_bytes());
    let questions = add_questions(&mut site, &texts.questions, &name);
    let mut listed = Vec::new();
    for Module { listed: Listed { name: module, shows }, bound: Bound { wasm, glue } } in modules {
        let wasm_named = name(&format!("{module}.wasm"), &wasm);
        let glue_named = name(&format!("{module}.js"), &glue);
        site.insert(wasm_named.clone(), wasm);
        site.insert(glue_named.clone(), glue);
        listed.push(json!({ "name": module, "shows": shows, "wasm": wasm_named, "glue": glue_named }));
    }
    let first = listed.first().context("the page has no module")?;
    let (glue, wasm) = (in_text(&first["glue"]), in_text(&first["wasm"]));

    let outside = [page.as_bytes(), worker.as_deref().unwrap_or_default()];
    let content = hash(site.iter().flat_map(|(address, bytes)| [address.as_bytes(), bytes]).chain(outside));
    let version = format!("{}+{content:016x}", env!("CARGO_PKG_VERSION"));
    let said = |key: &str| -> BTreeMap<&String, &String> {
        texts.shell.iter().filter_map(|(tag, texts)| Some((tag, texts.get(key)?))).collect()
    };
    // In a script element, only `<` could end the block early.
    let block = json!({
        "version": version, "modules": listed, "words": words, "more": more, "scenarios": scenarios, "offered": offered, "questions": questions,
        "manifests": manifests, "worker": worker.as_ref().map(|_| offline::WORKER),
        "languages": said("language"), "shell": texts.shell,
    })
    .to_string()
    .replace('<', "\\u003c");
    let head = format!(
        "<link rel=\"modulepreload\" href=\"{glue}\">\n    \
         <link rel=\"preload\" href=\"{wasm}\" as=\"fetch\" type=\"application/wasm\" crossorigin>\n    \
         <script type=\"application/json\" id=\"site\">{block}</script>"
    );
    for (mark, text) in [(POLICY_MARK, policy::meta()), (SITE_MARK, head)] {
        page = put(&page, mark, &text)?;
    }
    if let Some(missing) = named(&page).find(|address| !site.contains_key(*address)) {
        bail!("index.html names {missing}, which is not in static/");
    }
    site.insert(PAGE.to_owned(), page.into_bytes());
    if let Some(worker) = worker {
        let worker = offline::worker(&String::from_utf8(worker)?, &version, &site);
        site.insert(offline::WORKER.to_owned(), worker.into_bytes());
    }
    Ok(site)
}

/// The page with a text in the place of a mark.
fn put(page: &str, mark: &str, text: &str) -> Result<String> {
    if page.matches(mark).count() != 1 {
        bail!("index.html must have {mark} once");
    }
    Ok(page.replace(mark, text))
}

/// The page with the texts of its first language, and in every language that it needs scripts.
fn with_texts(page: &str, shell: &BTreeMap<String, BTreeMap<String, String>>) -> String {
    let noscript = shell.iter().filter_map(|(tag, texts)| Some((tag, texts.get("noscript")?)));
    let noscript = noscript.map(|(tag, text)| format!("<p lang=\"{tag}\">{}</p>", escaped(text))).collect::<String>();
    let page = page.replace(NOSCRIPT_MARK, &noscript);
    let texts = shell.get(FIRST).into_iter().flatten();
    texts.fold(page, |page, (key, text)| page.replace(&format!("{{shell.{key}}}"), &escaped(text)))
}

fn in_text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

/// A text as it stands in an element or in an attribute.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;")
}

/// Adds the question files and a list of them, which is fetched with the first of them and so weighs nothing before.
fn add_questions(site: &mut Site, questions: &Questions, name: &dyn Fn(&str, &[u8]) -> String) -> String {
    let mut add = |address: &str, json: &str| {
        let named = name(address, json.as_bytes());
        site.insert(named.clone(), json.to_owned().into_bytes());
        named
    };
    let mut files = |folder: &str, files: &BTreeMap<String, String>| -> BTreeMap<String, String> {
        files.iter().map(|(skill, json)| (skill.clone(), add(&format!("{folder}/{skill}.json"), json))).collect()
    };
    let truth = files("questions", &questions.truth);
    let texts = questions.texts.iter().map(|(tag, texts)| (tag, files(&format!("questions/{tag}"), texts)));
    let texts: BTreeMap<_, _> = texts.collect();
    add("questions.json", &json!({ "truth": truth, "texts": texts }).to_string())
}

/// The addresses that a page's elements name; not what is in the page itself.
fn named(page: &str) -> impl Iterator<Item = &str> {
    let attributes = [" href=\"", " src=\""];
    let all = attributes.into_iter().flat_map(|attribute| page.split(attribute).skip(1));
    all.filter_map(|rest| rest.split('"').next()).filter(|address| !address.starts_with('#'))
}

/// Whether a style sheet fetches anything; link it from the page instead.
fn names_a_file(style: &[u8]) -> bool {
    let style = String::from_utf8_lossy(style);
    style.contains("@import") || style.contains("url(")
}

fn hash<'a>(parts: impl IntoIterator<Item = &'a [u8]>) -> u64 {
    let mut hasher = DefaultHasher::new();
    for part in parts {
        hasher.write(part);
    }
    hasher.finish()
}

/// `words/en.json` becomes `words/en-0123456789abcdef.json`.
fn with_hash(address: &str, hash: u64) -> String {
    match address.rsplit_once('.') {
        Some((stem, ending)) => format!("{stem}-{hash:016x}.{ending}"),
        None => format!("{address}-{hash:016x}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BARE: &str =
        "<head><!-- policy --><link href=\"a.css\"><script src=\"boot.js\"></script><!-- site --></head>";

    fn modules() -> Vec<Module> {
        let module = |name: &str, shows: &str| Module {
            listed: Listed { name: name.to_owned(), shows: vec![shows.to_owned()] },
            bound: Bound { wasm: name.into(), glue: format!("export default {name}").into() },
        };
        vec![module("start", ""), module("run", "run")]
    }

    fn site(naming: Naming, style: &str) -> Site {
        let statics = [("a.css", style), ("boot.js", "go()"), (offline::WORKER, "keep()")];
        let statics = Site::from(statics.map(|(address, text)| (address.to_owned(), text.into())));
        let one = |name: &str| BTreeMap::from([(name.to_owned(), "{}".to_owned())]);
        let questions = Questions { truth: one("result"), texts: BTreeMap::from([("es".to_owned(), one("result"))]) };
        let texts =
            Texts { words: one("en"), more: one("en"), scenarios: "[]".to_owned(), questions, ..Texts::default() };
        assemble(BARE, statics, modules(), &texts, naming).unwrap()
    }

    fn page(site: &Site) -> &str {
        std::str::from_utf8(&site[PAGE]).unwrap()
    }

    fn block(site: &Site) -> Value {
        let (_, rest) = page(site).split_once("id=\"site\">").unwrap();
        serde_json::from_str(rest.split_once("</script>").unwrap().0).unwrap()
    }

    #[test]
    fn every_address_the_page_names_is_in_the_site() {
        for naming in [Naming::Plain, Naming::Hashed] {
            let site = site(naming, "p{}");
            let block = block(&site);
            let of_modules = block["modules"].as_array().unwrap().iter().flat_map(|one| [&one["wasm"], &one["glue"]]);
            for address in of_modules.chain([&block["words"]["en"], &block["more"]["en"]]) {
                assert!(site.contains_key(address.as_str().unwrap()), "{address}");
            }
            let list: Value = serde_json::from_slice(&site[block["questions"].as_str().unwrap()]).unwrap();
            for address in [&list["truth"]["result"], &list["texts"]["es"]["result"]] {
                assert!(site.contains_key(address.as_str().unwrap()), "{address}");
            }
            let named: Vec<_> = named(page(&site)).collect();
            assert_eq!(named.len(), 4, "{named:?}");
            for address in named {
                assert!(site.contains_key(address), "{address}");
            }
        }
    }

    #[test]
    fn modules_are_listed_in_their_order_with_what_they_show() {
        let block = block(&site(Naming::Plain, ""));
        let run = json!({ "name": "run", "shows": ["run"], "wasm": "run.wasm", "glue": "run.js" });
        assert_eq!((block["modules"].as_array().unwrap().len(), &block["modules"][1]), (2, &run));
    }

    #[test]
    fn a_changed_file_gets_another_name_and_the_others_keep_theirs() {
        let (one, two) = (site(Naming::Hashed, "p{}"), site(Naming::Hashed, "q{}"));
        let changed: Vec<_> = two.keys().filter(|address| !one.contains_key(*address)).collect();
        assert_eq!(changed.len(), 1, "{changed:?}");
        assert!(changed[0].starts_with("a-") && changed[0].ends_with(".css"));
        assert_ne!(block(&one)["version"], block(&two)["version"]);
    }

    #[test]
    fn the_worker_keeps_its_name_lists_everything_else_and_is_for_what_is_shipped() {
        let plain = site(Naming::Plain, "");
        assert!(!plain.contains_key(offline::WORKER) && block(&plain)["worker"].is_null());
        let shipped = site(Naming::Hashed, "");
        assert_eq!(block(&shipped)["worker"], offline::WORKER);
        let worker = String::from_utf8(shipped[offline::WORKER].clone()).unwrap();
        let list: Value =
            serde_json::from_str(worker.lines().next().unwrap()["const SITE = ".len()..].trim_end_matches(';'))
                .unwrap();
        assert_eq!(list["version"], block(&shipped)["version"]);
        let others = shipped.keys().filter(|address| ![offline::WORKER, PAGE].contains(&address.as_str()));
        let listed = list["parts"].as_object().unwrap();
        assert!(listed.contains_key("./") && others.clone().all(|address| listed.contains_key(address)));
        assert_eq!(listed.len(), others.count() + 1);
    }

    #[test]
    fn the_policy_comes_first_in_head() {
        assert!(page(&site(Naming::Plain, "")).starts_with("<head><meta http-equiv=\"Content-Security-Policy\""));
    }

    #[test]
    fn a_style_sheet_that_fetches_is_refused() {
        let statics = Site::from([("a.css".to_owned(), b"@import 'b.css';".to_vec())]);
        assert!(assemble(BARE, statics, modules(), &Texts::default(), Naming::Plain).is_err());
    }

    #[test]
    fn a_page_that_names_what_is_not_there_is_refused() {
        assert!(assemble(BARE, Site::new(), modules(), &Texts::default(), Naming::Plain).is_err());
    }

    #[test]
    fn a_page_without_its_places_is_refused() {
        assert!(assemble("<head></head>", Site::new(), modules(), &Texts::default(), Naming::Plain).is_err());
    }

    #[test]
    fn a_page_that_asks_for_a_text_that_no_language_has_is_refused() {
        let page = BARE.replace("</head>", "<title>{shell.titel}</title></head>");
        let error = assemble(&page, site(Naming::Plain, ""), modules(), &Texts::default(), Naming::Plain).unwrap_err();
        assert!(error.to_string().contains("shell.titel"), "{error}");
    }

    #[test]
    fn texts_stand_in_the_page_as_text() {
        let texts = [("a", "1 < 2 & \"so\""), ("noscript", "No")].map(|(key, text)| (key.to_owned(), text.to_owned()));
        let shell = BTreeMap::from([("en".to_owned(), BTreeMap::from(texts))]);
        let page = with_texts("<p title=\"{shell.a}\">{shell.a}</p><!-- noscript -->", &shell);
        assert_eq!(
            page,
            "<p title=\"1 &lt; 2 &amp; &quot;so&quot;\">1 &lt; 2 &amp; &quot;so&quot;</p><p lang=\"en\">No</p>"
        );
    }

    #[test]
    fn the_real_page_has_its_places_once() {
        let page = include_str!("../../index.html");
        for mark in [POLICY_MARK, SITE_MARK, NOSCRIPT_MARK, DRAWING_MARK] {
            assert_eq!(page.matches(mark).count(), 1, "{mark}");
        }
        let head = page.split_once("<head>").unwrap().1.trim_start();
        assert!(head.starts_with(POLICY_MARK));
    }
}
