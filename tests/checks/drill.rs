//! Short drills: their truth is the judge's, what is shown decides it, and every result comes up.

use bittersweet_core::{
    act::{Act, Threshold, Verdict},
    drill::{Asks, Drill, Level, Marked, Named, Shown, Weight, drill},
    log::{Entry, What},
    review::review,
    rulebook::{Agent, RuleId},
    run::Run,
    scenario::Scenario,
    sign::{Seen, Sign},
    source::{Gravity, Push, Skill},
    state::{About, State},
    units::Ms,
};
use std::{collections::BTreeMap, rc::Rc};

/// Drills of each level, both agents by turns.
fn drills(level: Level, count: u64) -> impl Iterator<Item = (u64, Drill)> {
    (0..count).map(move |number| {
        let agent = if number % 2 == 0 { Agent::Sweet } else { Agent::Bitter };
        let seed = number.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        (seed, drill(seed, agent, level).unwrap_or_else(|| panic!("no story of forty, seed {seed}, {level:?}")))
    })
}

fn sorted(mut named: Vec<Named>) -> Vec<Named> {
    named.sort_unstable();
    named.dedup();
    named
}

/// What is right at the end of a log, by the review alone: each answer is given, and it says whether that was right.
fn judged(scenario: &Scenario, log: &[Entry], asks: Asks) -> Vec<Named> {
    let state = State::of(scenario.agent, log);
    let about = state.about();
    let at = state.now.plus(Ms::secs(2));
    let with = |act: Act| {
        let mut log = log.to_vec();
        log.push(Entry::act(at, act));
        review(scenario, &log)
    };
    let is_right = |verdict: Verdict| with(Act::Give(verdict)).calls.last().is_some_and(|call| call.is_right());
    let mut right: Vec<Named>;
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
            right = reasons.map(Named::from).collect();
            // A screening may always be made once more; nothing calls for it where it is sound.
            if matches!(about, About::Screening(_)) && !doubtful {
                right.retain(|named| *named != Named::Invalid);
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
            right = Threshold::ALL.iter().filter(fits).map(|one| Named::from(*one)).collect();
            let tasted = [Threshold::Ten, Threshold::Twenty, Threshold::Thirty];
            let too_many = !spoilt && tasted.iter().any(|one| notes(*one).contains(&RuleId::ScreenCount));
            if right.is_empty() || doubtful || too_many {
                right.push(Named::Invalid);
            }
        }
    }
    sorted(right)
}

#[test]
fn what_is_right_is_what_the_review_makes_of_the_whole_log() {
    let mut wrong = Vec::new();
    for level in Level::ALL.iter().copied() {
        for (seed, one) in drills(level, 500) {
            // From nothing but the acts.
            let acts: Vec<(Ms, Act)> = one.run.acts().collect();
            let mut again = Run::replay(Rc::clone(one.run.scenario()), &acts).expect("it was run before");
            again.advance(one.run.now());
            let judged = judged(again.scenario(), again.log(), one.asks);
            if sorted(one.accepted.clone()) != judged {
                wrong.push(format!("{seed:#x} {level:?} {:?}: {:?}, but {judged:?}", one.asks, one.accepted));
            }
            assert!(one.accepted.iter().all(|named| Named::of(one.asks).contains(named)), "{seed}");
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_answer_comes_up_at_every_level_and_a_third_is_as_it_should_be() {
    for level in Level::ALL.iter().copied() {
        let mut named: BTreeMap<Named, u32> = BTreeMap::new();
        let (mut all, mut quiet) = (0_u32, 0_u32);
        for (_, one) in drills(level, 500) {
            all += 1;
            *named.entry(one.accepted[0]).or_default() += 1;
            quiet += u32::from(
                !one.decides.iter().any(|(_, weight)| matches!(weight, Weight::Broke(_)))
                    && one.accepted == [Named::Pass],
            );
        }
        for asks in Asks::ALL {
            for one in Named::of(*asks) {
                assert!(named.get(one).is_some_and(|count| *count >= 5), "{level:?}: {one:?} of {named:?}");
            }
        }
        assert!(quiet * 6 >= all, "{level:?}: {quiet} of {all}");
    }
}

#[test]
fn what_is_shown_is_short_in_order_and_has_what_decides() {
    for level in Level::ALL.iter().copied() {
        for (seed, one) in drills(level, 500) {
            assert!((2..=18).contains(&one.lines.len()), "{seed}: {} lines", one.lines.len());
            assert!(one.lines.windows(2).all(|pair| pair[0].at <= pair[1].at), "{seed} {level:?}: {:?}", one.lines);
            assert!(one.decides.iter().all(|(place, _)| *place < one.lines.len()), "{seed}");
            // A result that is no plain pass is to be seen in a line.
            let plain =
                one.accepted.iter().any(|named| !matches!(named, Named::Invalid | Named::Stopped | Named::NotTested));
            assert!(plain || !one.decides.is_empty(), "{seed} {level:?}: {:?} of {:?}", one.accepted, one.lines);
        }
    }
}

#[test]
fn a_rule_that_a_name_rests_on_is_in_the_book() {
    for level in Level::ALL.iter().copied() {
        let mut cited = Vec::new();
        for (seed, one) in drills(level, 500) {
            let Some(rule) = one.accepted.first().and_then(|named| named.rule()) else { continue };
            assert!(one.run.scenario().rulebook().rule(rule).is_some(), "{seed} {level:?}: {rule:?}");
            cited.push(rule);
        }
        for rule in [RuleId::ScreenClass, RuleId::ScreenNone, RuleId::WatchTaste] {
            assert!(cited.contains(&rule), "{level:?}: {rule:?}");
        }
    }
}

#[test]
fn what_was_tasted_decides_no_screening_that_was_spoilt() {
    let is_taste = |shown: Shown| {
        let Shown::Entry(What::Sign(Sign::Seen(seen))) = shown else { return false };
        matches!(seen, Seen::SignalsTaste | Seen::SaysTaste | Seen::SaysTrace | Seen::SaysTasteLate)
    };
    let mut spoilt = 0;
    for (seed, drill) in Level::ALL.iter().flat_map(|level| drills(*level, 200)) {
        let broke = drill.decides.iter().any(|(_, weight)| matches!(weight, Weight::Broke(_)));
        if drill.asks != Asks::Threshold || drill.accepted.first() != Some(&Named::Invalid) || !broke {
            continue;
        }
        let tasted = drill.lines.iter().enumerate().filter(|(_, line)| is_taste(line.shown)).map(|(place, _)| place);
        for place in tasted {
            spoilt += 1;
            let weight = drill.decides.iter().find(|(decided, _)| *decided == place).map(|(_, weight)| *weight);
            assert!(!matches!(weight, Some(Weight::Decides)), "seed {seed}");
        }
    }
    assert!(spoilt > 20, "{spoilt}");
}

/// What is left out was by the book: nothing in it was broken, and nothing in it was said.
#[test]
fn what_is_folded_was_by_the_book() {
    for level in Level::ALL.iter().copied() {
        for (seed, one) in drills(level, 500) {
            let state = one.run.state();
            let Some(test) = state.tests.last().filter(|_| one.asks == Asks::Result) else { continue };
            for line in &one.lines {
                let Shown::ByTheBook(first, last) = line.shown else { continue };
                let from = test.exercises.iter().position(|done| done.exercise == first).expect("begun");
                let to = test.exercises.iter().position(|done| done.exercise == last).expect("begun");
                for done in &test.exercises[from..=to] {
                    let end = done.to.unwrap_or(one.run.now());
                    assert!(end.since(done.from) >= Ms::secs(57), "{seed} {level:?}: {done:?}");
                    let said = test.common.signs.iter().any(|(at, _)| *at >= done.from && *at < end);
                    assert!(!said, "{seed} {level:?}: {done:?}");
                }
            }
        }
    }
}

/// A set is shown whole, also where an exercise is cut off in the middle of it: half of one would read as a short one.
#[test]
fn a_set_is_shown_whole() {
    for level in Level::ALL.iter().copied() {
        for (seed, one) in drills(level, 500).filter(|(_, one)| one.asks == Asks::Result) {
            let Some(test) = one.run.state().tests.last() else { continue };
            let gap = one.run.scenario().rulebook().numbers.set_gap;
            let mut squeezes = test.common.squeezes.iter().map(|squeeze| squeeze.at).peekable();
            while let Some(first) = squeezes.next() {
                let (mut last, mut count) = (first, 1);
                while let Some(next) = squeezes.next_if(|next| next.since(last) <= gap) {
                    (last, count) = (next, count + 1);
                }
                let shown = one.lines.iter().find(|line| line.at == first && matches!(line.shown, Shown::Squeezes(_)));
                let is_whole = shown.is_none_or(|line| line.shown == Shown::Squeezes(count));
                assert!(is_whole, "{seed} {level:?}: {count}, but {shown:?}");
                let inside = one.lines.iter().filter(|line| line.at > first && line.at <= last);
                let halved = inside.filter(|line| matches!(line.shown, Shown::Squeezes(_))).count();
                assert_eq!(halved, 0, "{seed} {level:?}: a set is shown in two");
            }
        }
    }
}

#[test]
fn the_same_seed_makes_the_same_drill() {
    for (seed, one) in drills(Level::Three, 40) {
        let again = drill(seed, one.run.scenario().agent, Level::Three).expect("made before");
        assert_eq!((again.lines, again.accepted, again.offered), (one.lines, one.accepted, one.offered));
    }
}

#[test]
fn next_steps_are_offered_with_a_right_one_among_them() {
    let mut offered = 0;
    for level in Level::ALL.iter().copied() {
        for (seed, one) in drills(level, 200).filter(|(_, one)| !one.offered.is_empty()) {
            offered += 1;
            let right = one.offered.iter().filter(|step| one.next == Some(**step));
            assert_eq!(right.count(), 1, "{seed}: {:?}", one.offered);
            assert!((3..=4).contains(&one.offered.len()), "{seed}: {:?}", one.offered);
        }
    }
    assert!(offered > 200, "{offered}");
}

#[test]
fn a_level_rises_after_two_right_and_falls_after_a_wrong_name() {
    let right = Marked { named: true, next: Some(true) };
    let half = Marked { named: true, next: Some(false) };
    let wrong = Marked { named: false, next: None };
    let after = |latest: &[Marked]| Drill::level_after(Level::Two, latest);
    assert_eq!(after(&[]), Level::Two);
    assert_eq!(after(&[right]), Level::Two);
    assert_eq!(after(&[right, right]), Level::Three);
    assert_eq!(after(&[right, half]), Level::Two);
    assert_eq!(after(&[right, wrong]), Level::One);
    assert_eq!(Drill::level_after(Level::Four, &[right, right]), Level::Four);
    assert_eq!(Drill::level_after(Level::One, &[wrong]), Level::One);
}
