//! The one developer tool: it builds, serves, packs and tests the page, and judges saved runs.
//!
//! Nothing of it is shipped. What a command does lies in the module of its name; here stands only how it is asked for.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "a command-line tool speaks on the terminal")]

mod alike;
mod bench;
mod browser;
mod cargo;
mod compress;
mod dist;
mod folders;
mod lighthouse;
mod live;
mod modules;
mod offline;
mod policy;
mod pseudo;
mod python;
mod reference;
mod replay;
mod serve;
mod server;
mod shelf;
mod site;
mod slow;
mod steps;
mod texts;
mod tools;
mod wasm;
mod watch;

use anyhow::{Result, bail};
use lexopt::{Arg, Parser, ValueExt as _};
use std::{env, path::PathBuf, process::ExitCode};

const HELP: &str = "\
cargo xtask COMMAND

  serve [--port N] [--no-open] [--dist]
      Builds the page, shows it in the browser, and again on every change.
      --port N    the first port to try (8080)
      --no-open   leaves the browser alone
      --dist      serves what `dist` made, and builds nothing
  dist [--out DIR]
      Makes the folder to put on a web host (target/dist).
  test [--all] [--only STEP]... [-- ARGUMENT...]
      Everything that must hold; the last line counts the steps.
      --all       also what is too slow for each run
      --only STEP only this step; may be given more than once
      ARGUMENT... for the browser tests: a file, or -g and a title
  bench
      What is light and fast enough, beside other ways to compute it: one table.
  replay FILE
      Prints the review of a saved run as JSON; `-` reads standard input.
";

fn main() -> ExitCode {
    match command(Parser::from_env()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::FAILURE
        }
    }
}

/// Does what was asked for. Returns whether all was well.
fn command(mut arguments: Parser) -> Result<bool> {
    match arguments.next()? {
        None => bail!("{HELP}"),
        Some(Arg::Long("help") | Arg::Short('h')) => println!("{HELP}"),
        Some(Arg::Value(name)) => match name.string()?.as_str() {
            "serve" => serve::serve(serve_wish(arguments)?)?,
            "dist" => dist::dist(&dist_out(arguments)?)?,
            "test" => return steps::test(&test_wish(arguments)?),
            "bench" => return bench::bench(),
            "replay" => replay::replay(&replay_file(arguments)?)?,
            // Not for people: `serve` asks for it when the words have changed.
            "texts" => texts::print()?,
            "help" => println!("{HELP}"),
            other => bail!("there is no command `{other}`\n\n{HELP}"),
        },
        Some(other) => return Err(other.unexpected().into()),
    }
    Ok(true)
}

fn serve_wish(mut arguments: Parser) -> Result<serve::Wish> {
    let mut wish = serve::Wish::default();
    while let Some(argument) = arguments.next()? {
        match argument {
            Arg::Long("port") => wish.port = Some(arguments.value()?.parse()?),
            Arg::Long("no-open") => wish.no_open = true,
            Arg::Long("dist") => wish.dist = true,
            other @ (Arg::Short(_) | Arg::Long(_) | Arg::Value(_)) => return Err(other.unexpected().into()),
        }
    }
    Ok(wish)
}

fn dist_out(mut arguments: Parser) -> Result<PathBuf> {
    let mut out = dist::folder();
    while let Some(argument) = arguments.next()? {
        match argument {
            Arg::Long("out") => out = env::current_dir()?.join(arguments.value()?),
            other @ (Arg::Short(_) | Arg::Long(_) | Arg::Value(_)) => return Err(other.unexpected().into()),
        }
    }
    Ok(out)
}

fn test_wish(mut arguments: Parser) -> Result<steps::Wish> {
    let mut wish = steps::Wish::default();
    while let Some(argument) = arguments.next()? {
        match argument {
            Arg::Long("all") => wish.all = true,
            Arg::Long("only") => wish.only.push(arguments.value()?.string()?),
            // Only what follows `--` comes as a bare value here.
            Arg::Value(value) => wish.browser.push(value.string()?),
            other @ (Arg::Short(_) | Arg::Long(_)) => return Err(other.unexpected().into()),
        }
    }
    Ok(wish)
}

fn replay_file(mut arguments: Parser) -> Result<String> {
    let Some(Arg::Value(file)) = arguments.next()? else { bail!("replay takes a file, or - for standard input") };
    match arguments.next()? {
        None => Ok(file.string()?),
        Some(other) => Err(other.unexpected().into()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_follows_two_dashes_is_for_the_browser_tests() {
        let wish = test_wish(Parser::from_args(["--only", "browser", "--", "shell.spec.ts", "-g", "pass"])).unwrap();
        assert_eq!(wish.only, ["browser"]);
        assert_eq!(wish.browser, ["shell.spec.ts", "-g", "pass"]);
    }

    #[test]
    fn a_misspelt_option_is_refused() {
        assert!(serve_wish(Parser::from_args(["--no-opn"])).is_err());
        assert!(test_wish(Parser::from_args(["--al"])).is_err());
        assert!(command(Parser::from_args(["srve"])).is_err());
    }
}
