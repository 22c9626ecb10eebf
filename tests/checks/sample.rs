//! The record that is written in a run: what goes into it, what the judge makes of it, and that more than the law asks does no harm.

use crate::driver::{Conductor, built_in, findings, plain};
use bittersweet_core::{
    act::{Act, Field, Fields, Threshold, Verdict},
    guide,
    log::{Entry, What},
    rulebook::{Agent, RuleId},
    run::Run,
    sample::{Sample, samples},
    units::Ms,
};

fn of(run: &Run) -> Vec<Sample> {
    samples(run.scenario(), run.log())
}

/// By the book, but with these fields in the record.
fn with(agent: Agent, fields: Fields) -> Conductor {
    let mut conductor = Conductor::new(&plain(agent, |_| {}));
    let whole = Act::Record(Fields::FIVE);
    conductor.until(whole).mistake(whole, Act::Record(fields)).finish();
    conductor
}

#[test]
fn a_record_holds_what_was_so_when_it_was_written() {
    let run = Conductor::by_the_book(&built_in("paint-line"));
    let [failed, passed] = of(&run)[..] else { panic!("a fail and a pass, each with its record") };
    assert_eq!((failed.result, passed.result), (Some(Verdict::Fail), Some(Verdict::Pass)));
    assert_ne!(failed.facepiece, passed.facepiece, "after a fail another one is tested");
    let donned: Vec<_> = run.state().donnings.iter().map(|donning| Some(donning.slot)).collect();
    assert!(donned.contains(&failed.facepiece) && donned.contains(&passed.facepiece));
    assert!(failed.at < passed.at && failed.fields == Fields::FIVE);
}

#[test]
fn the_threshold_is_the_one_that_was_noted() {
    for (tastes_after, wanted) in [(4, Threshold::Ten), (14, Threshold::Twenty), (24, Threshold::Thirty)] {
        let run = Conductor::by_the_book(&plain(Agent::Bitter, |loose| loose.wearer.tastes_after = Some(tastes_after)));
        assert_eq!(of(&run).last().and_then(|sample| sample.threshold), Some(wanted), "{tastes_after}");
    }
}

#[test]
fn a_record_before_anything_was_done_holds_nothing_but_its_fields() {
    let run = Conductor::by_the_book(&built_in("grinding-shop"));
    let log = [Entry { at: Ms::secs(1), what: What::Act(Act::Record(Fields::FIVE)) }];
    let [sample] = samples(run.scenario(), &log)[..] else { panic!("one record") };
    assert_eq!((sample.facepiece, sample.threshold, sample.result), (None, None, None));
}

/// 29 CFR 1910.134(m)(2)(i)(A) to (E), read: each of the five is asked for, and nothing else.
#[test]
fn each_of_the_five_is_missed_and_more_is_never_marked_down() {
    for agent in Agent::ALL.iter().copied() {
        let plain = findings(&with(agent, Fields::FIVE).review());
        for field in Field::ALL.iter().copied() {
            let conductor = with(agent, Fields::FIVE.toggled(field));
            let review = conductor.review();
            let broken: Vec<RuleId> = review.findings.iter().map(|finding| finding.rule).collect();
            let asked_for = Fields::FIVE.has(field);
            assert_eq!(broken.contains(&RuleId::RecordFields), asked_for, "{field:?}");
            assert_eq!(broken.contains(&RuleId::RecordHealth), field == Field::Health, "{field:?}");
            if !asked_for && field != Field::Health {
                assert_eq!(findings(&review), plain, "{field:?}");
            }
        }
    }
}

/// Whoever writes more is not sent to write it again.
#[test]
fn the_guide_is_content_with_more_and_with_health_it_is_not() {
    let next_is_record = |fields: Fields| {
        let mut conductor = Conductor::new(&plain(Agent::Sweet, |_| {}));
        conductor.until(Act::Record(Fields::FIVE)).act(Act::Record(fields));
        let run = &conductor.run;
        let next = guide::next(run.scenario(), run.state(), run.now()).map(|step| step.act);
        next == Some(Act::Record(Fields::FIVE))
    };
    assert!(!next_is_record(Fields::FIVE));
    assert!(!next_is_record(Fields::FIVE.toggled(Field::Conductor).toggled(Field::Threshold)));
    assert!(next_is_record(Fields::FIVE.toggled(Field::Health)));
    assert!(next_is_record(Fields::FIVE.toggled(Field::Date)));
}
