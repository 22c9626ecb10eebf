//! A whole assessment, answered rightly: it is passed, and with one error left standing it is not. What was done and answered is
//! kept for the browser, where the same is done by hand.

use bittersweet_core::{
    act::{Act, Fields},
    assessment::{Length, Limit, Sitting, Terms, result},
    drill::{Named, drill},
    evidence::Evidence,
    guide,
    question::{Kind, Question, Task, ask::ask, read, unit},
    questions, review,
    rulebook::{self, Agent},
    run::Run,
    scenario::Scenario,
    source::Skill,
    units::Ms,
    wire::{
        answer_v1::{AnswerV1, Asked},
        outcome_v1::OutcomeV1,
        run_v1::{Conditions, Help, Pace},
    },
};
use serde_json::{Value, json};
use std::{fs, path::Path, rc::Rc};

/// The assessment that the browser sits.
const TERMS: Terms = Terms {
    number: 100_183,
    agent: Agent::Sweet,
    length: Length::Short,
    pace: Pace::Stepped,
    limit: Limit::Off,
    bar: 80,
};

/// What can be let pass at the bench, in seconds.
const WAITS: [u32; 6] = [10, 30, 60, 180, 300, 600];

/// A run as somebody makes it who knows the book, step by step; a wait is one of those that the bench has.
fn stepped(scenario: Rc<Scenario>, until: impl Fn(&Run, Act) -> bool) -> Run {
    let mut run = Run::new(scenario);
    for _ in 0..1_500 {
        let Some(step) = guide::next(run.scenario(), run.state(), run.now()) else { return run };
        let early = step.not_before.map_or(Ms::ZERO, |due| due.since(run.now()));
        let wanted = if let Act::Wait(length) = step.act { length } else { early };
        let wait = WAITS.into_iter().map(Ms::secs).rfind(|wait| *wait <= wanted.max(Ms::secs(10)));
        // A little early is not early enough to wait for.
        let waits = matches!(step.act, Act::Wait(_)) || early > Ms::secs(5);
        let act = wait.filter(|_| waits).map_or(step.act, Act::Wait);
        if until(&run, act) {
            return run;
        }
        let at = run.now();
        run.apply(act, at).unwrap_or_else(|refusal| panic!("{refusal} at {at}"));
        if !matches!(act, Act::Wait(_) | Act::Finish) {
            run.wait(at.plus(rulebook::nominal(act.code().0)));
        }
    }
    panic!("no end");
}

fn outcome(id: &str, run: &Run) -> OutcomeV1 {
    let reviewed = review::of_run(run);
    let conditions = Conditions::new(Help::Unaided, TERMS.pace);
    let evidence = Evidence::of(run.scenario(), run.log(), &reviewed, &conditions).expect("no colleague's run");
    OutcomeV1 { set: Some("a1".to_owned()), ..OutcomeV1::new(id, 20_000, run.scenario(), run.log(), evidence) }
}

fn bank() -> Vec<Question> {
    let skill = |(code, json): &(&str, &str)| Some(read::questions(Some(Skill::from_code(code)?), json).whole);
    questions::TRUTH.iter().filter_map(skill).flatten().collect()
}

/// How an act is done at the page.
fn at_the_page(act: Act) -> Value {
    let (code, with) = act.code();
    json!([code, with.unwrap_or_default()])
}

/// How a question is answered rightly at the page: places of what is ticked, letters in order, or a figure with its unit.
fn answered(place: usize, question: &Question) -> Value {
    let asked = ask(TERMS.question_seed(place), question, TERMS.agent);
    let id = &question.id;
    match (&question.task, question.task.kind()) {
        (Task::Number(number), _) => {
            let figure = unit::shown(asked.number.expect("a number is asked for"));
            json!({ "id": id, "figure": figure, "unit": number.unit.code() })
        }
        (task, kind) => {
            let right = &task.options().expect("options").right;
            if kind == Kind::Order {
                return json!({ "id": id, "order": right.iter().map(char::to_string).collect::<Vec<_>>() });
            }
            let places: Vec<usize> =
                right.iter().filter_map(|letter| asked.shown.iter().position(|shown| shown == letter)).collect();
            json!({ "id": id, "places": places })
        }
    }
}

#[test]
fn an_assessment_that_is_answered_rightly_is_passed_and_kept_for_the_browser() {
    let mut sitting = Sitting::begin("a1".to_owned(), TERMS, 0, 20_000);
    let mut runs = Vec::new();
    for (place, scenario) in TERMS.runs().into_iter().enumerate() {
        let run = stepped(Rc::new(scenario), |_, _| false);
        let id = format!("r{place}");
        sitting.begun.push(id.clone());
        sitting.take(outcome(&id, &run));
        runs.push(run.acts().map(|(_, act)| at_the_page(act)).collect::<Vec<_>>());
    }
    let mut drills = Vec::new();
    for (level, seed) in TERMS.drills() {
        let one = drill(seed, TERMS.agent, level).expect("a drill");
        let named = *one.accepted.first().expect("something is right");
        let marked = one.mark(named, one.next);
        assert!(marked.credit().is_whole());
        let name = Named::of(one.asks).iter().position(|other| *other == named);
        let next = one.offered.iter().position(|other| Some(*other) == one.next);
        drills.push(json!({ "named": name, "next": next }));
        sitting.answers.push(AnswerV1 {
            asked: Asked::Drill,
            id: format!("{}-{seed}", level.code()),
            revision: 1,
            skill: one.skill(),
            agent: TERMS.agent,
            credit: marked.credit(),
            day: 20_000,
        });
    }
    let bank = bank();
    let questions = TERMS.questions(bank.iter());
    let right = sitting.answers[0].credit;
    sitting.answers.extend(questions.iter().map(|question| AnswerV1 {
        asked: Asked::Question,
        id: question.id.clone(),
        revision: question.revision,
        skill: question.skill,
        agent: TERMS.agent,
        credit: right,
        day: 20_000,
    }));
    let outcome_of = result::of(&sitting, 1).expect("it is over");
    assert!(outcome_of.is_passed(), "{:?}", outcome_of.reasons);
    assert!(outcome_of.caught.of >= 2 && outcome_of.caught.hits == outcome_of.caught.of, "{outcome_of:?}");

    // The quiet run, with a pass given in the first exercise: whatever the score, it is not passed.
    let mut spoilt = stepped(Rc::new(TERMS.runs().swap_remove(quiet())), |run, _| {
        run.state().test().is_some_and(|test| test.exercises.len() == 1)
    });
    let early: Vec<Act> =
        [Act::Give(bittersweet_core::act::Verdict::Pass), Act::HoodOff, Act::Record(Fields::FIVE), Act::Finish].into();
    for act in &early {
        let at = spoilt.now().plus(Ms::secs(5));
        // What cannot be is not done.
        let _ = spoilt.apply(*act, at);
    }
    sitting.outcomes[0] = OutcomeV1 { run: "r0".to_owned(), ..outcome("r0", &spoilt) };
    let failed = result::of(&sitting, 1).expect("it is over");
    assert!(matches!(failed.reasons.first(), Some(result::Reason::Grave(1, _))), "{:?}", failed.reasons);

    let kept = json!({
        "number": TERMS.number,
        "quiet": quiet(),
        "runs": runs,
        "drills": drills,
        "questions": questions.iter().enumerate().map(|(place, question)| answered(place, question)).collect::<Vec<_>>(),
        "spoilt": spoilt.acts().map(|(_, act)| at_the_page(act)).collect::<Vec<_>>(),
    });
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("browser/assessed.json");
    let written = format!("{kept:#}\n");
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&file, &written).expect("the file can be written");
    }
    let there = fs::read_to_string(&file).unwrap_or_default();
    assert_eq!(there, written, "UPDATE=1 writes {} anew", file.display());
}

/// Which of the runs is the quiet one.
fn quiet() -> usize {
    let runs = TERMS.runs();
    runs.iter()
        .position(|run| bittersweet_core::unannounced::real(run.seed).is_empty())
        .expect("a third of them are quiet")
}
