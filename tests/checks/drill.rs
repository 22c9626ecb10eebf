//! Short drills: what they hold to be right is what the review of the whole run says, and what the shown lines say.

use crate::{
    driver::{Conductor, plain},
    random::tenfold,
};
use bittersweet_core::{
    act::{Act, Exercise, Reminder, Role, Threshold, Verdict},
    drill::{Answer, Asks, Drill, Grade, Level, Line, Practice, Set, Shown, drill},
    log::{Entry, What},
    review::review,
    rulebook::{Agent, RuleId, Rulebook},
    run::Run,
    scenario::Scenario,
    scene::Scene,
    sign::{Mouthful, Seen, Sign},
    source::{Gravity, Push, Skill},
    state::{About, State},
    units::Ms,
    wire::scenario_v1,
};
use proptest::prelude::*;
use std::{collections::BTreeMap, rc::Rc};

/// So many of each level are held against the whole run, and against their lines.
const MANY: u32 = 500;

/// So many of each level are looked at otherwise.
const SOME: u32 = 100;

/// The fewest and the most lines of any drill.
const FEWEST: usize = 5;
const MOST: usize = 14;

/// Every drill that is looked at: the agents take turns, and the seeds lie far apart.
fn drills(each: u32) -> impl Iterator<Item = Drill> {
    const APART: u64 = 0x9e37_79b9_7f4a_7c15;
    Level::ALL.iter().flat_map(move |level| {
        (0..u64::from(each)).map(|number| {
            let agent = if number.is_multiple_of(2) { Agent::Sweet } else { Agent::Bitter };
            drill(number.wrapping_mul(APART), agent, *level)
        })
    })
}

fn named(drill: &Drill) -> String {
    format!("{:#x} {:?} {:?} {:?}", drill.seed, drill.setting.agent, drill.level, drill.asks)
}

/// The run of a drill, made from its acts once more.
fn replayed(drill: &Drill) -> Run {
    let acts = drill.scenario.colleague.clone().expect("the run is in it");
    Run::replay(Rc::clone(&drill.scenario), &acts).unwrap_or_else(|refusal| panic!("{}: {refusal}", named(drill)))
}

/// What is right at the end of a log: those answers, and those that stand without being called for.
#[derive(Debug, Default, PartialEq, Eq)]
struct Judged {
    right: Vec<Answer>,
    allowed: Vec<Answer>,
}

/// Judges by the review alone, in its plainest reading.
fn judged(scenario: &Scenario, log: &[Entry], asks: Asks) -> Judged {
    let state = State::of(scenario.agent, log);
    let about = state.about();
    let at = state.now.plus(Ms::secs(2));
    let with = |act: Act| {
        let mut log = log.to_vec();
        log.push(Entry::act(at, act));
        review(scenario, &log)
    };
    let is_right = |verdict: Verdict| with(Act::Give(verdict)).calls.last().is_some_and(|call| call.is_right());
    let mut judged = Judged::default();
    let broken = |marks: &[bittersweet_core::judge::Mark]| -> Vec<(RuleId, About, Ms)> {
        marks.iter().filter(|mark| !mark.kept).map(|mark| (mark.rule, mark.about, mark.at)).collect()
    };
    let before = broken(&review(scenario, log).marks);
    let book = scenario.rulebook();
    let doubtful = before.iter().filter(|(_, on, _)| *on == about).any(|(rule, ..)| {
        book.rule(*rule).is_some_and(|rule| {
            let spoils = rule.gravity.is_top() && rule.skill != Skill::Result;
            spoils || (rule.gravity == Gravity::Departure && rule.push == Push::FalsePass)
        })
    });
    let doubtful = doubtful || state.screening().is_some_and(|one| one.common.shown(Seen::SaysTasteBefore).is_some());
    match asks {
        Asks::Result => {
            let reasons = Verdict::all().filter(|verdict| is_right(*verdict));
            judged.right = reasons.map(Answer::of).collect();
            judged.right.sort_unstable();
            judged.right.dedup();
            // A screening may always be made once more; nothing calls for it where it is sound.
            if matches!(about, About::Screening(_)) && !doubtful {
                judged.right.retain(|answer| *answer != Answer::Invalid);
                judged.allowed.push(Answer::Invalid);
            }
        }
        Asks::Threshold => {
            let spoilt = before
                .iter()
                .any(|(rule, on, _)| *on == about && book.rule(*rule).is_some_and(|rule| rule.gravity.is_top()))
                || state.screening().is_some_and(|one| one.common.shown(Seen::SaysTasteBefore).is_some());
            let notes = |threshold: Threshold| {
                let after = broken(&with(Act::NoteThreshold(threshold)).marks);
                after.into_iter().filter(|mark| !before.contains(mark)).map(|(rule, ..)| rule).collect::<Vec<_>>()
            };
            let fits = |threshold: &&Threshold| !spoilt && notes(**threshold).is_empty();
            judged.right = Threshold::ALL.iter().filter(fits).map(|one| Answer::of_threshold(*one)).collect();
            let tasted = [Threshold::Ten, Threshold::Twenty, Threshold::Thirty];
            let too_many = !spoilt && tasted.iter().any(|one| notes(*one).contains(&RuleId::ScreenCount));
            if judged.right.is_empty() || doubtful || too_many {
                judged.right.push(Answer::Invalid);
            } else {
                judged.allowed.push(Answer::Invalid);
            }
        }
    }
    judged
}

fn of(drill: &Drill) -> Judged {
    let mut right: Vec<Answer> = drill.readings.iter().map(|reading| reading.answer).collect();
    right.sort_unstable();
    Judged { right, allowed: drill.allowed.clone() }
}

fn sorted(mut judged: Judged) -> Judged {
    judged.right.sort_unstable();
    judged
}

#[test]
fn what_is_right_is_what_the_review_of_the_whole_run_says() {
    let mut wrong = Vec::new();
    for drill in drills(tenfold(MANY)) {
        let run = replayed(&drill);
        let judged = sorted(judged(&drill.scenario, run.log(), drill.asks));
        if of(&drill) != judged {
            wrong.push(format!("{}: {:?}, but {judged:?}", named(&drill), of(&drill)));
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}

/// A log made of nothing but the setting and the lines, on what went before in another run, by the book.
struct Rebuilt {
    scenario: Rc<Scenario>,
    log: Vec<Entry>,
}

/// The signs that an act was answered with, in a log in which it was done.
fn answered(log: &mut Vec<Entry>, act: Act, signs: &[Sign]) {
    let Some(place) = log.iter().position(|entry| entry.what == What::Act(act)) else {
        let at = log.last().map_or(Ms::ZERO, |entry| entry.at).plus(Ms::secs(1));
        log.push(Entry::act(at, act));
        log.extend(signs.iter().map(|sign| Entry::sign(at, *sign)));
        return;
    };
    let at = log[place].at;
    log.retain(|entry| entry.at != at || entry.what == What::Act(act));
    for (further, sign) in signs.iter().enumerate() {
        log.insert(place + 1 + further, Entry::sign(at, *sign));
    }
}

fn rebuilt(drill: &Drill) -> Rebuilt {
    let (from, to) = drill.window;
    let (early, shown): (Vec<&Line>, Vec<&Line>) = drill.lines.iter().partition(|line| line.at < from);
    let note = early
        .iter()
        .find_map(|line| if let Shown::Did(Act::NoteThreshold(noted), _) = line.what { Some(noted) } else { None });
    let counted: u32 =
        early.iter().map(|line| if let Shown::Squeezed(set) = &line.what { set.pressed } else { 0 }).sum();
    let tastes = match drill.setting.threshold {
        Some(Threshold::Twenty) => 16,
        Some(Threshold::Thirty) => 25,
        _ if counted > 0 => u8::try_from(counted).expect("thirty at most"),
        _ => 6,
    };
    // What was said and seen of somebody is so.
    let said = |seen: Seen| {
        drill.lines.iter().any(|line| matches!(&line.what, Shown::Did(_, signs) if signs.contains(&Sign::Seen(seen))))
    };
    let answers = drill
        .lines
        .iter()
        .filter_map(|line| if let Shown::Did(_, signs) = &line.what { Some(signs.clone()) } else { None });
    let figures: Vec<Sign> = answers.flatten().collect();
    let agent = drill.setting.agent;
    let make = |is_so: bool| {
        plain(agent, |loose| {
            loose.wearer.tastes_after = Some(tastes);
            for piece in &mut loose.rack {
                piece.class = drill.setting.class.code().to_owned();
            }
            if !is_so {
                return;
            }
            for (seen, face) in
                [(Seen::FaceStubble, "stubble"), (Seen::FaceBeard, "beard"), (Seen::FaceMoustache, "moustache")]
            {
                if said(seen) {
                    loose.wearer.face = face.to_owned();
                }
            }
            if said(Seen::SaysNotCleared) {
                loose.wearer.clearance = "none".to_owned();
            }
            loose.bench.hood_damp = said(Seen::HoodDamp);
            for sign in &figures {
                if let Sign::ExposureTimes(times) = sign {
                    loose.exposure_times = *times;
                } else if let Sign::ByMouth(what, minutes) = sign
                    && *what != Mouthful::Nothing
                {
                    let had = scenario_v1::ByMouthV1 { what: what.code().to_owned(), minutes_ago: *minutes };
                    loose.wearer.by_mouth = Some(had);
                }
            }
        })
    };
    let mut conductor = Conductor::new(&make(false));
    // Nothing has begun where no hood and no nebulizer comes up, nothing was sprayed, and nothing happened.
    let is_asking =
        |line: &&Line| matches!(line.what, Shown::Did(act, _) if !matches!(act, Act::HoodOn | Act::Take(_)));
    let is_day = shown.iter().all(is_asking);
    let mut log = if is_day {
        Vec::new()
    } else {
        // Up to the hood, for the screening or for the test.
        let tests = drill.setting.threshold.is_some() || note.is_some();
        conductor.until_like(|run, act| act == Act::HoodOn && run.state().worn().is_some() == tests);
        conductor.run.log().to_vec()
    };
    for line in &early {
        if let Shown::Did(act, signs) = &line.what
            && !matches!(act, Act::NoteThreshold(_) | Act::Ask(_))
        {
            answered(&mut log, *act, signs);
        }
    }
    if let Some(noted) = note {
        for entry in &mut log {
            if matches!(entry.what, What::Act(Act::NoteThreshold(_))) {
                entry.what = What::Act(Act::NoteThreshold(noted));
            }
        }
    }
    let start = log.last().map_or(Ms::ZERO, |entry| entry.at).plus(Ms::secs(2));
    let window = Window { drill, lines: &shown, start, from, to };
    log.extend(if is_day { window.plain() } else { window.entries() });
    Rebuilt { scenario: make(true), log }
}

struct Window<'a> {
    drill: &'a Drill,
    lines: &'a [&'a Line],
    start: Ms,
    from: Ms,
    to: Ms,
}

impl Window<'_> {
    fn at(&self, at: Ms) -> Ms {
        self.start.plus(at.since(self.from))
    }

    fn plain(&self) -> Vec<Entry> {
        let mut entries = Vec::new();
        for line in self.lines {
            let at = self.at(line.at);
            match &line.what {
                Shown::Did(act, signs) => {
                    entries.push(Entry::act(at, *act));
                    entries.extend(signs.iter().map(|sign| Entry::sign(at, *sign)));
                }
                Shown::Came(sign) => entries.push(Entry::sign(at, *sign)),
                Shown::Squeezed(set) => entries.extend(self.squeezes(set)),
                Shown::Exercised(exercise, _, sets) => {
                    entries.push(Entry::act(at, Act::Begin(*exercise)));
                    entries.extend(sets.iter().flat_map(|set| self.squeezes(set)));
                }
                Shown::Regular(first, last, to, half) => {
                    entries.extend(self.regular(line.at, *first, *last, *to, *half));
                }
            }
        }
        entries.sort_by_key(|entry| entry.at);
        entries
    }

    /// Evenly pressed; those that were not whole come after the first two.
    fn squeezes(&self, set: &Set) -> Vec<Entry> {
        let apart = set.to.since(set.at).0 / set.pressed.saturating_sub(1).max(1);
        let short = set.pressed - set.whole;
        (0..set.pressed)
            .flat_map(|number| {
                let at = self.at(set.at.plus(Ms(apart * number)));
                let is_short = number >= 2 && number < 2 + short;
                let sign = is_short.then(|| Entry::sign(at, Sign::Seen(Seen::SpraysShort)));
                [Some(Entry::act(at, Act::Squeeze)), sign].into_iter().flatten()
            })
            .collect()
    }

    fn begun(&self) -> Ms {
        let exercise = |line: &&&Line| matches!(line.what, Shown::Exercised(..) | Shown::Regular(..));
        self.lines.iter().find(exercise).map_or(self.to, |line| line.at)
    }

    /// Each its share of the time, and the squeezes when they are due.
    fn regular(&self, from: Ms, first: Exercise, last: Exercise, to: Ms, half: u32) -> Vec<Entry> {
        let numbers = &Rulebook::us(self.drill.setting.agent).numbers;
        let (one, other) = (first.place().expect("one of seven"), last.place().expect("one of seven"));
        let count = u32::try_from(other - one + 1).expect("seven at most");
        let share = to.since(from).0 / count;
        let mut entries: Vec<Entry> = (0..count)
            .zip(&Exercise::SEVEN[one..])
            .map(|(number, exercise)| Entry::act(self.at(from.plus(Ms(share * number))), Act::Begin(*exercise)))
            .collect();
        let is_last = last == Exercise::NormalAgain;
        let mut due = self.begun().plus(numbers.replenish_every);
        while due <= to {
            let needed = !is_last || due.plus(numbers.replenish_lost) <= to;
            if due > from && needed {
                let set = Set { at: due, to: due.plus(Ms(700 * (half - 1))), pressed: half, whole: half };
                entries.extend(self.squeezes(&set));
            }
            due = due.plus(numbers.replenish_every);
        }
        entries
    }

    /// The lines, and around them what is always done and may have been left out.
    fn entries(&self) -> Vec<Entry> {
        let mut entries = self.plain();
        let did = |like: &dyn Fn(Act) -> bool| {
            self.lines.iter().any(|line| matches!(line.what, Shown::Did(act, _) if like(act)))
        };
        let is_test = self.drill.setting.threshold.is_some()
            || self.drill.lines.iter().any(|line| matches!(line.what, Shown::Exercised(..) | Shown::Regular(..)));
        let role = if is_test { Role::Fit } else { Role::Check };
        let mut first = Vec::new();
        if !did(&|act| act == Act::HoodOn) {
            first.push(Entry::act(self.start, Act::HoodOn));
        }
        if !did(&|act| matches!(act, Act::Take(_))) {
            first.push(Entry::act(self.start.plus(Ms(100)), Act::Take(role)));
        }
        if !did(&|act| act == Act::Remind(Reminder::Breathing)) {
            first.push(Entry::act(self.start.plus(Ms(200)), Act::Remind(Reminder::Breathing)));
        }
        // The last exercise is ended where nothing else ends it; a line can have no end of its own before the cut.
        let exercise = |line: &&&Line| matches!(line.what, Shown::Exercised(..) | Shown::Regular(..));
        let over = self.lines.iter().rfind(exercise).map(|line| line.to()).filter(|to| *to < self.to);
        if let Some(to) = over {
            first.push(Entry::act(self.at(to), Act::End));
            let look = Act::CheckNebulizer(Role::Fit);
            if did(&|act| act == Act::HoodOff) || did(&|act| act == Act::PutDown) {
                let shortly = |beats: u32| self.at(to).plus(Ms(100 * beats));
                if !did(&|act| act == look) {
                    first.push(Entry::act(shortly(1), look));
                    first.push(Entry::sign(shortly(1), Sign::Seen(Seen::NebulizerTipFree)));
                }
                if !did(&|act| act == Act::ReviewComfort) {
                    first.push(Entry::act(shortly(2), Act::ReviewComfort));
                    first.push(Entry::sign(shortly(2), Sign::Seen(Seen::SaysComfortable)));
                }
            }
        }
        first.append(&mut entries);
        first.sort_by_key(|entry| entry.at);
        first
    }
}

#[test]
fn the_shown_lines_decide() {
    let mut wrong = Vec::new();
    for drill in drills(tenfold(MANY)) {
        let Rebuilt { scenario, log } = rebuilt(&drill);
        let judged = sorted(judged(&scenario, &log, drill.asks));
        if of(&drill) != judged {
            wrong.push(format!("{}: {:?}, but the lines say {judged:?}", named(&drill), of(&drill)));
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_result_comes_up_at_every_level() {
    let mut counts: BTreeMap<(Level, Asks, Answer), u32> = BTreeMap::new();
    let mut asked: BTreeMap<(Level, Asks), u32> = BTreeMap::new();
    let (mut harmless, mut all) = (0_u32, 0_u32);
    for drill in drills(MANY) {
        let first = drill.readings.first().unwrap_or_else(|| panic!("{}: nothing is right", named(&drill)));
        *counts.entry((drill.level, drill.asks, first.answer)).or_default() += 1;
        *asked.entry((drill.level, drill.asks)).or_default() += 1;
        harmless += u32::from(drill.harmless);
        all += 1;
    }
    for ((level, asks), total) in asked {
        for answer in asks.offers() {
            let count = counts.get(&(level, asks, *answer)).copied().unwrap_or_default();
            // Nobody who always says the same is right half the time, and nothing is as rare as one in fifty.
            assert!(count * 2 < total && count * 50 > total, "{level:?} {asks:?} {answer:?}: {count} of {total}");
        }
    }
    // About a third: within five standard deviations of one in three, for the two thousand of each run.
    let share = f64::from(harmless) / f64::from(all);
    assert!((share - 1.0 / 3.0).abs() < 0.055, "{share}");
}

#[test]
fn a_drill_is_short_and_shows_what_decides() {
    for drill in drills(SOME) {
        let name = named(&drill);
        assert!((FEWEST..=MOST).contains(&drill.lines.len()), "{name}: {} lines", drill.lines.len());
        assert!(drill.lines.is_sorted_by_key(|line| line.at), "{name}: not in order");
        assert!(!drill.decides.is_empty(), "{name}: nothing decides");
        assert!(drill.decides.iter().all(|decisive| decisive.line < drill.lines.len()), "{name}");
        // What decides is shown by itself.
        for decisive in &drill.decides {
            let folded = matches!(drill.lines[decisive.line].what, Shown::Regular(..));
            assert!(!folded || decisive.rule == RuleId::ResultComplete, "{name}: {decisive:?}");
        }
        assert_eq!(drill.timeline().filter(|span| span.decides).count(), {
            let mut places: Vec<usize> = drill.decides.iter().map(|decisive| decisive.line).collect();
            places.dedup();
            places.len()
        });
    }
}

#[test]
fn what_is_right_is_offered_and_marked_so() {
    for drill in drills(SOME) {
        let name = named(&drill);
        let right = |answer: Answer| drill.readings.iter().any(|reading| reading.answer == answer);
        assert!(drill.readings.iter().all(|reading| drill.offered().contains(&reading.answer)), "{name}");
        assert!(drill.readings.len() <= 2, "{name}: more than two readings");
        for answer in Answer::ALL.iter().copied() {
            let marked = drill.mark(answer);
            let expected = match (right(answer), drill.allowed.contains(&answer)) {
                (true, stands) => {
                    assert!(!stands, "{name}: right and merely allowed");
                    Grade::Right
                }
                (false, true) => Grade::Allowed,
                (false, false) => Grade::Wrong,
            };
            assert_eq!(marked.grade, expected, "{name}");
            assert_eq!(marked.readings, drill.readings, "{name}");
        }
        let rights = drill.next.iter().filter(|(_, grade)| *grade == Grade::Right).count();
        assert_eq!(rights, 1, "{name}: {:?}", drill.next);
        assert!((3..=6).contains(&drill.next.len()), "{name}: {:?}", drill.next);
        for (place, (act, grade)) in drill.next.iter().enumerate() {
            assert_eq!(drill.mark_next(*act), *grade, "{name}");
            assert!(drill.next[..place].iter().all(|(other, _)| other != act), "{name}: {act:?} twice");
        }
    }
}

/// After the result that is right, the step that is right or allowed leaves nothing to find about it, and a wrong one does.
#[test]
fn what_comes_next_is_what_the_review_lets_stand() {
    let of_the_step = [
        RuleId::NextStep,
        RuleId::NextDifferent,
        RuleId::NextWhole,
        RuleId::NextAgent,
        RuleId::NextCannot,
        RuleId::NextScreen,
        RuleId::NextRefer,
        RuleId::UseEvery,
        RuleId::ResultComplete,
    ];
    for drill in drills(SOME).filter(|drill| drill.asks == Asks::Result) {
        let log = replayed(&drill).log().to_vec();
        let at = drill.window.1.plus(Ms::secs(2));
        let given = Verdict::all().find(|verdict| {
            let mut log = log.clone();
            log.push(Entry::act(at, Act::Give(*verdict)));
            let right = review(&drill.scenario, &log).calls.last().is_some_and(|call| call.is_right());
            right && Answer::of(*verdict) == drill.readings[0].answer
        });
        let given = given.unwrap_or_else(|| panic!("{}: nothing is right", named(&drill)));
        for (act, grade) in &drill.next {
            let mut log = log.clone();
            log.extend([Entry::act(at, Act::Give(given)), Entry::act(at.plus(Ms::secs(2)), *act)]);
            let review = review(&drill.scenario, &log);
            let broken = review.marks.iter().any(|mark| !mark.kept && mark.at > at && of_the_step.contains(&mark.rule));
            assert_eq!(broken, *grade == Grade::Wrong, "{}: {act:?} after {given:?}", named(&drill));
        }
    }
}

#[test]
fn a_drill_can_be_played_and_kept_as_a_file() {
    for drill in drills(SOME) {
        let name = named(&drill);
        let read = scenario_v1::check(&scenario_v1::loose(&drill.scenario));
        assert_eq!(read.as_ref().ok(), Some(&*drill.scenario), "{name}: {:?}", read.as_ref().err());
        let mut colleague = drill.play().expect("a colleague's acts are in it");
        assert!(colleague.run().now() <= drill.window.0.max(Ms::secs(1)), "{name}");
        let mut seen = Scene::of(colleague.run());
        let mut changes = 0;
        while !colleague.is_done() {
            colleague.advance(colleague.run().now().plus(Ms::secs(2)));
            let next = Scene::of(colleague.run());
            changes += u32::from(next != seen);
            seen = next;
        }
        assert_eq!(colleague.run().log(), replayed(&drill).log(), "{name}");
        assert_eq!(colleague.run().now(), drill.window.1, "{name}: it ends where it is cut");
        assert!(changes > 0 || drill.readings[0].answer == Answer::NotTested, "{name}: nothing to see");
    }
}

#[test]
fn the_same_seed_tells_the_same() {
    for seed in 0..50 {
        for level in Level::ALL {
            let [one, other] = [(); 2].map(|()| drill(seed, Agent::Bitter, *level));
            assert_eq!(format!("{one:?}"), format!("{other:?}"));
        }
    }
}

fn grade() -> impl Strategy<Value = Grade> {
    prop_oneof![Just(Grade::Right), Just(Grade::Allowed), Just(Grade::Wrong)]
}

proptest! {
    #![proptest_config(crate::random::config(200))]

    /// Right answers never take a level down and wrong ones never up, whatever went before; what is allowed moves nothing.
    #[test]
    fn the_level_follows_the_answers(before in prop::collection::vec(grade(), 0..40), level in 0..4_usize) {
        let start = Practice::new(Level::ALL[level]);
        let practice = before.iter().copied().fold(start, Practice::after);
        prop_assert!(practice.after(Grade::Right).level() >= practice.level());
        prop_assert!(practice.after(Grade::Wrong).level() <= practice.level());
        prop_assert_eq!(practice.after(Grade::Allowed), practice);
        // Three right on end are a level, two wrong ones as well; twelve and eight are all there are.
        let up = [Grade::Right; 3].into_iter().fold(practice, Practice::after);
        prop_assert!(up.level() > practice.level() || up.level() == Level::Four);
        let down = [Grade::Wrong; 2].into_iter().fold(practice, Practice::after);
        prop_assert!(down.level() < practice.level() || down.level() == Level::One);
        prop_assert_eq!([Grade::Right; 12].into_iter().fold(practice, Practice::after).level(), Level::Four);
        prop_assert_eq!([Grade::Wrong; 8].into_iter().fold(practice, Practice::after).level(), Level::One);
    }

    /// Whoever is right up to a level and wrong above it stays between the two.
    #[test]
    fn practice_settles_where_somebody_stands(can in 0..3_usize) {
        let (last, next) = (Level::ALL[can], Level::ALL[can + 1]);
        let mut practice = Practice::new(Level::One);
        let mut wrong = 0;
        for _ in 0..200 {
            let right = practice.level() <= last;
            wrong += u32::from(!right);
            practice = practice.after(if right { Grade::Right } else { Grade::Wrong });
            prop_assert!(practice.level() <= next);
        }
        prop_assert!(practice.level() >= last);
        // Three right ones lead up, and two wrong ones down again: so two in five are too hard.
        prop_assert!((70..=80).contains(&wrong), "{}", wrong);
    }
}
