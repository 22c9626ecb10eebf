//! Reads a saved run and prints its review.

use anyhow::{Context as _, Result, bail};
use bittersweet_core::{
    review::review,
    wire::{MOST_RUN_BYTES, review_v1::ReviewV1, run_v1},
};
use std::{
    fs::File,
    io::{self, Read},
};

/// Judges the run in `file`, or on standard input when it is `-`, and prints its review as JSON.
///
/// # Errors
/// When it cannot be read, is over the limit, or is no run file; then with everything wrong in it, and where.
pub(crate) fn replay(file: &str) -> Result<()> {
    let text = if file == "-" {
        read(io::stdin())
    } else {
        read(File::open(file).with_context(|| format!("cannot open {file}"))?)
    }
    .with_context(|| format!("cannot read {file}"))?;
    println!("{}", judged(&text).with_context(|| format!("{file} is not replayed"))?);
    Ok(())
}

fn judged(text: &str) -> Result<String> {
    let opened = run_v1::parse(text)?;
    if opened.run.is_none() {
        eprintln!("today's engine would have shown something else: the log is judged as it was recorded");
    }
    let review = ReviewV1::of(&opened.scenario, &review(&opened.scenario, &opened.log));
    Ok(serde_json::to_string_pretty(&review)?)
}

fn read(from: impl Read) -> Result<String> {
    let mut bytes = Vec::new();
    from.take(MOST_RUN_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    if bytes.len() > MOST_RUN_BYTES {
        bail!("a run file is at most {MOST_RUN_BYTES} bytes");
    }
    String::from_utf8(bytes).context("it is not text")
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::{
        run::Run,
        scenarios::BUILT_IN,
        wire::{
            run_v1::{Conditions, Help, Pace},
            scenario_v1,
        },
    };
    use std::rc::Rc;

    #[test]
    fn a_file_over_the_limit_is_refused() {
        assert!(read(io::repeat(b' ')).is_err());
        assert_eq!(read(io::repeat(b' ').take(MOST_RUN_BYTES as u64)).unwrap().len(), MOST_RUN_BYTES);
    }

    #[test]
    fn a_saved_run_is_judged_and_nonsense_is_not() {
        let (_, scenario) = BUILT_IN[0];
        let run = Run::new(Rc::new(scenario_v1::parse(scenario).unwrap()));
        let conditions = Conditions::new(Help::Unaided, Pace::Real);
        let saved = serde_json::to_string(&run_v1::save(&run, &conditions)).unwrap();
        assert!(judged(&saved).unwrap().contains("\"finished\": false"));
        assert!(judged(&saved[..saved.len() / 2]).is_err());
    }
}
