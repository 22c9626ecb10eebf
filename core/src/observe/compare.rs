//! The marks of somebody who watched, beside the review of what they watched.
//!
//! Nothing here judges the run. Good practice that was missed is not asked for, and neither is what the colleague put
//! right; whoever marks it all the same is told that it was so.

use super::Slip;
use crate::{
    judge,
    log::What,
    review::{Finding, Review},
    rulebook::RuleId,
    run::Run,
    sign::{Seen, Sign},
    source::Gravity,
    state::About,
    units::Ms,
};

/// How long before a moment a mark still speaks of it: what is missing shows a little before it is due.
pub const EARLY: Ms = Ms::secs(15);

/// How long after a moment a mark still speaks of it, whatever it is named.
pub const LATE: Ms = Ms::secs(30);

/// A moment at which something seemed wrong, and what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    /// When it was marked.
    pub at: Ms,
    /// What it was taken for.
    pub slip: Slip,
}

/// How well a slip was named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Named {
    /// By its name.
    Rightly,
    /// By the name of another slip of the same skill, or by the wrong result that came of it.
    Nearly,
}

/// A mark that found something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Found {
    /// The mark.
    pub mark: Mark,
    /// How well it was named.
    pub named: Named,
}

/// Something that went wrong and was to be found. Findings that look alike in one attempt are one thing to find.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// What it is.
    pub slip: Slip,
    /// In which attempt.
    pub about: About,
    /// The findings, gravest first; never empty.
    pub findings: Vec<Finding>,
    /// The mark that found it.
    pub found: Option<Found>,
    span: Span,
}

impl Asked {
    /// When it went wrong first.
    #[must_use]
    pub fn at(&self) -> Ms {
        self.span.first
    }
}

/// What became of a mark that found nothing of what was to be found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Beside {
    /// It was found already.
    Again,
    /// Good practice missed: not asked for, and rightly seen.
    GoodPractice(Finding),
    /// The colleague put it right: rightly seen.
    PutRight(Finding),
    /// What was to be seen there was harmless.
    Harmless(Seen),
    /// This rule was kept there.
    Kept(RuleId),
    /// No rule of that kind came up there.
    Nothing,
}

/// Marks beside a review.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compared {
    /// What was to be found, in order of time.
    pub asked: Vec<Asked>,
    /// The other marks, in order of time, each with what became of it.
    pub beside: Vec<(Mark, Beside)>,
}

impl Compared {
    /// What was found.
    pub fn found(&self) -> impl Iterator<Item = (&Asked, Found)> {
        self.asked.iter().filter_map(|asked| Some((asked, asked.found?)))
    }

    /// What was not.
    pub fn missed(&self) -> impl Iterator<Item = &Asked> {
        self.asked.iter().filter(|asked| asked.found.is_none())
    }
}

/// When a mark speaks of a thing.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Span {
    /// When it went wrong first.
    first: Ms,
    /// Every moment at which it went wrong.
    times: Vec<Ms>,
    /// From when on it could be seen.
    opens: Ms,
    /// Until when it still mattered.
    closes: Ms,
    /// When a wrong result came of it.
    called: Option<Ms>,
}

impl Span {
    fn of(run: &Run, review: &Review, about: About, findings: &[Finding]) -> Self {
        let times: Vec<Ms> = findings.iter().flat_map(|finding| finding.times.iter().copied()).collect();
        let state = run.state();
        let first = times.iter().copied().min().unwrap_or(Ms::ZERO);
        let last = times.iter().copied().max().unwrap_or(Ms::ZERO).plus(LATE);
        // What had to be done before the first exercise is seen to be missing once the hood is on.
        let readied = state.tests.iter().find(|test| {
            let begun = test.begun().unwrap_or(test.common.from);
            (test.common.from..=begun).contains(&first)
        });
        let opens = readied.map_or(first, |test| test.common.from).since(EARLY);
        // A screening concerns the tests that are counted from it as well.
        let resting = |number: usize| state.tests.iter().filter(move |test| test.screening == Some(number));
        let ends: Vec<Option<Ms>> = match about {
            About::Day => vec![None],
            About::Test(number) => state.tests.get(number).map(|test| test.common.closed).into_iter().collect(),
            About::Screening(number) => state
                .screenings
                .get(number)
                .map(|screening| screening.common.closed)
                .into_iter()
                .chain(resting(number).map(|test| test.common.closed))
                .collect(),
        };
        let ends = ends.into_iter().map(|end| end.unwrap_or(run.now())).max().unwrap_or(run.now());
        let concerns = |call: About| match (about, call) {
            (About::Screening(number), About::Test(test)) => {
                state.tests.get(test).is_some_and(|test| test.screening == Some(number))
            }
            _ => call == about,
        };
        let called = review.calls.iter().find(|call| concerns(call.about) && !call.is_right()).map(|call| call.at);
        Self { first, times, opens, closes: last.max(ends.plus(LATE)), called }
    }

    fn holds(&self, at: Ms) -> bool {
        (self.opens..=self.closes).contains(&at)
    }

    fn is_near(&self, at: Ms) -> bool {
        self.times.iter().any(|time| is_near(*time, at))
    }

    /// How far a moment is from it: from its nearest time, then from its first.
    fn distance(&self, at: Ms) -> (Ms, Ms) {
        let far = |time: Ms| at.since(time).max(time.since(at));
        (self.times.iter().copied().map(far).min().unwrap_or(Ms::ZERO), far(self.first))
    }
}

fn is_near(time: Ms, at: Ms) -> bool {
    (time.since(EARLY)..=time.plus(LATE)).contains(&at)
}

/// What broke in one attempt and looks alike, as one thing.
#[derive(Clone, Debug)]
struct Thing {
    slip: Slip,
    about: About,
    findings: Vec<Finding>,
    span: Span,
}

impl Thing {
    /// Whether a mark names it, in the time in which it mattered.
    fn is_named_by(&self, mark: Mark) -> bool {
        mark.slip == self.slip && self.span.holds(mark.at)
    }

    /// Whether a mark points at it by another name.
    fn is_meant_by(&self, mark: Mark) -> bool {
        let of_the_skill = mark.slip.skill() == self.slip.skill() && self.span.is_near(mark.at);
        let by_the_result =
            mark.slip == Slip::Result && self.span.called.is_some_and(|called| is_near(called, mark.at));
        of_the_skill || by_the_result
    }
}

/// In order of time. There are few of them: what is simplest is quick enough, and weighs least.
fn things(run: &Run, review: &Review, findings: &[&Finding]) -> Vec<Thing> {
    let mut grouped: Vec<(Slip, About, Vec<Finding>)> = Vec::new();
    for finding in findings.iter().copied() {
        let slip = Slip::of(finding.rule);
        match grouped.iter_mut().find(|(other, about, _)| *other == slip && *about == finding.about) {
            Some((.., alike)) => alike.push(finding.clone()),
            None => grouped.push((slip, finding.about, vec![finding.clone()])),
        }
    }
    let mut things: Vec<Thing> = Vec::new();
    for (slip, about, findings) in grouped {
        let thing = Thing { slip, about, span: Span::of(run, review, about, &findings), findings };
        let place = things.partition_point(|other| other.span.first <= thing.span.first);
        things.insert(place, thing);
    }
    things
}

fn in_order(marks: &[Mark]) -> Vec<Mark> {
    let mut ordered: Vec<Mark> = Vec::new();
    for mark in marks {
        let place = ordered.partition_point(|other| other.at <= mark.at);
        ordered.insert(place, *mark);
    }
    ordered
}

/// Lays marks beside the review of the run that was watched.
#[must_use]
pub fn compare(run: &Run, review: &Review, marks: &[Mark]) -> Compared {
    let is_good = |finding: &&Finding| finding.gravity == Gravity::Good;
    let (good, grave): (Vec<&Finding>, Vec<&Finding>) = review.findings.iter().partition(is_good);
    let (asked, good) = (things(run, review, &grave), things(run, review, &good));
    let put_right = things(run, review, &review.put_right.iter().collect::<Vec<_>>());
    let mut found: Vec<Option<Found>> = vec![None; asked.len()];
    let mut left = in_order(marks);
    // Those named rightly come first, so that a mark that is only near takes nothing from them.
    for named in [Named::Rightly, Named::Nearly] {
        left.retain(|mark| {
            // What is named rightly beside them is meant, and not what lies farther off.
            let others = good.iter().chain(&put_right).filter(|thing| thing.is_named_by(*mark));
            let other = others.map(|thing| thing.span.distance(mark.at).0).min().unwrap_or(Ms(u32::MAX));
            let speaks = |thing: &Thing| match named {
                Named::Rightly => thing.is_named_by(*mark),
                Named::Nearly => thing.is_meant_by(*mark) && thing.span.distance(mark.at).0 <= other,
            };
            let free = asked.iter().zip(&mut found).filter(|(thing, found)| found.is_none() && speaks(thing));
            match free.min_by_key(|(thing, _)| thing.span.distance(mark.at)) {
                Some((_, found)) => {
                    *found = Some(Found { mark: *mark, named });
                    false
                }
                None => true,
            }
        });
    }
    let kept = judge::judge(run.scenario(), run.log());
    let beside = left.into_iter().map(|mark| (mark, became(run, &kept, mark, [&asked, &good, &put_right]))).collect();
    let asked = asked.into_iter().zip(found).map(|(thing, found)| {
        let Thing { slip, about, findings, span } = thing;
        Asked { slip, about, findings, found, span }
    });
    Compared { asked: asked.collect(), beside }
}

/// What became of a mark that found nothing new.
fn became(run: &Run, judged: &[judge::Mark], mark: Mark, [asked, good, put_right]: [&[Thing]; 3]) -> Beside {
    let named = |things: &[Thing]| {
        let speaking = things.iter().filter(|thing| thing.is_named_by(mark));
        speaking.min_by_key(|thing| thing.span.distance(mark.at)).and_then(|thing| thing.findings.first().cloned())
    };
    let meant = |things: &[Thing]| {
        let speaking = things.iter().filter(|thing| thing.is_meant_by(mark));
        speaking.min_by_key(|thing| thing.span.distance(mark.at)).and_then(|thing| thing.findings.first().cloned())
    };
    let right = |find: &dyn Fn(&[Thing]) -> Option<Finding>| {
        find(good).map(Beside::GoodPractice).or_else(|| find(put_right).map(Beside::PutRight))
    };
    let mut kept = judged.iter().filter(|one| one.kept && Slip::of(one.rule) == mark.slip && is_near(one.at, mark.at));
    named(asked)
        .map(|_| Beside::Again)
        .or_else(|| right(&named))
        .or_else(|| harmless(run, mark.at).map(Beside::Harmless))
        .or_else(|| meant(asked).map(|_| Beside::Again))
        .or_else(|| right(&meant))
        .or_else(|| kept.next_back().map(|one| Beside::Kept(one.rule)))
        .unwrap_or(Beside::Nothing)
}

/// The harmless thing that was to be seen shortly before a moment.
fn harmless(run: &Run, at: Ms) -> Option<Seen> {
    let lately = run.log().iter().rev().skip_while(|entry| entry.at > at).take_while(|entry| entry.at.plus(LATE) >= at);
    let mut seen =
        lately.filter_map(|entry| if let What::Sign(Sign::Seen(seen)) = entry.what { Some(seen) } else { None });
    seen.find(|seen| seen.is_harmless())
}
