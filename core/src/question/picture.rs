//! The picture of a question: the engine's own, from a kind of trouble.
//!
//! A run by the book is made in which that comes up, and stopped when its sign is shown. So the picture cannot be at odds
//! with what the engine takes for true.

use crate::{
    act::Act,
    draw::{self, Purpose},
    guide,
    log::What,
    rulebook::Agent,
    run::Run,
    trouble::{Kind, Moment},
    unannounced,
    units::Ms,
};
use std::rc::Rc;

/// What a picture must show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// What comes up in it.
    pub trouble: Kind,
    /// When; any of its moments where none is given.
    pub moment: Option<Moment>,
    /// Of what each option speaks, in the order of the options; `None`: that nothing is wrong.
    pub kinds: Vec<Option<Kind>>,
}

/// How far apart two acts are; squeezes are quicker.
const BEAT: Ms = Ms(1_200);
const SQUEEZE: Ms = Ms(700);

/// More acts than a run by the book has until the end of its first test.
const MOST_ACTS: u32 = 1_000;

/// So many wearers are tried: with some of them, their taste comes before what is to be shown.
const MOST_TRIES: u32 = 60;

/// The run at the moment that the picture shows; `None` where no such moment was found.
#[must_use]
pub fn at_that_moment(seed: u64, agent: Agent, picture: &Picture) -> Option<Run> {
    (0..MOST_TRIES).find_map(|number| {
        let seed = u64::from(draw::number(seed, Purpose::QuestionPicture, number, u32::MAX));
        let scenario = unannounced::with(agent, seed, picture.trouble)?;
        let moment = scenario.trouble.first().map_or(Moment::Found, |trouble| trouble.when.moment());
        if picture.moment.is_some_and(|wanted| wanted != moment) {
            return None;
        }
        until_shown(Run::new(Rc::new(scenario)), picture.trouble)
    })
}

/// Whether some sign of `kind` has been shown in `run`.
#[must_use]
pub fn shows(run: &Run, kind: Kind) -> bool {
    run.log().iter().any(|entry| match entry.what {
        What::Sign(sign) => kind.entry().shows.contains(&sign.code().0),
        What::Act(_) => false,
    })
}

fn until_shown(mut run: Run, kind: Kind) -> Option<Run> {
    for _ in 0..MOST_ACTS {
        let step = guide::next(run.scenario(), run.state(), run.now())?;
        let beat = if step.act == Act::Squeeze { SQUEEZE } else { BEAT };
        let at = run.now().plus(beat).max(step.not_before.unwrap_or(Ms::ZERO));
        // What happens meanwhile may change what comes next, and is looked at while it is fresh.
        let known = run.log().len();
        while run.now() < at && run.log().len() == known {
            run.advance(run.now().plus(Ms(100)).min(at));
        }
        if run.log().len() == known {
            run.apply(step.act, at).ok()?;
        }
        if shows(&run, kind) {
            return Some(run);
        }
    }
    None
}
