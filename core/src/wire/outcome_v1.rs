//! Outcomes of runs as they are kept, version 1: one JSON object each, so that ten thousand are read and none is judged again.
//!
//! Read by its fields, as answers are. The run itself is kept elsewhere, and says more.

use super::{
    Code, Faults,
    run_v1::{ENGINE, Help},
    tree::Tree,
};
use crate::{
    evidence::{Event, Evidence, MOST_EVENTS, Origin},
    log::Entry,
    review::{Tally, Watch},
    rulebook::{Agent, RuleId, Rulebook},
    scenario::Scenario,
    source::{Gravity, Skill},
};

/// Bytes that an outcome may have.
pub const MOST_BYTES: usize = 8_192;

/// What became of a run, with what is known of it beside its log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutcomeV1 {
    /// The id of the run.
    pub run: String,
    /// The id of its scenario; [`crate::unannounced::ID`] where it was drawn.
    pub scenario: String,
    /// On which day it began, counted from 1 January 1970, where the page was.
    pub day: u32,
    /// How many minutes of simulated time it took; begun ones count.
    pub minutes: u32,
    /// The assessment that it was a part of.
    pub set: Option<String>,
    /// The engine that judged it.
    pub engine: u32,
    /// Whose rules it was judged by.
    pub book: String,
    /// Which version of them.
    pub rules: u32,
    /// What it is evidence of.
    pub evidence: Evidence,
}

impl OutcomeV1 {
    /// The outcome of a run that began on `day`, judged now.
    #[must_use]
    pub fn new(run: &str, day: u32, scenario: &Scenario, log: &[Entry], evidence: Evidence) -> Self {
        let book = scenario.rulebook();
        Self {
            run: run.to_owned(),
            scenario: scenario.id.clone(),
            day,
            minutes: log.last().map_or(0, |entry| entry.at.0.div_ceil(60_000)),
            set: None,
            engine: ENGINE,
            book: book.id.to_owned(),
            rules: book.version,
            evidence,
        }
    }

    /// Whether it was judged as it would be today; where it was not, the run is worth judging again.
    #[must_use]
    pub fn is_current(&self) -> bool {
        let book = Rulebook::us(self.evidence.agent);
        self.engine == ENGINE && self.book == book.id && self.rules == book.version
    }

    /// As it is written.
    #[must_use]
    pub fn written(&self) -> String {
        // Codes and ids have nothing in them that JSON would write otherwise.
        let Evidence { events, skills, watch, .. } = &self.evidence;
        let set = self.set.as_ref().map(|set| format!(r#""set":"{set}","#)).unwrap_or_default();
        let gravest = self
            .evidence
            .gravest
            .map(|(rule, gravity)| format!(r#""gravest":"{}","gravity":"{}","#, rule.code(), gravity.code()));
        let skills: Vec<String> = skills.iter().map(|tally| format!("[{},{}]", tally.kept, tally.came_up)).collect();
        let events: Vec<String> =
            events.iter().map(|event| format!(r#"["{}",{}]"#, event.origin.code(), event.well)).collect();
        format!(
            concat!(
                r#"{{"v":1,"run":"{}","scenario":"{}","day":{},"minutes":{},{}"engine":{},"book":"{}","rules":{},"#,
                r#""agent":"{}","help":"{}","hints":{},"real_pace":{},"whole":{},"given":{},"right":{},{}"#,
                r#""caught":{},"missed":{},"let_pass":{},"over_called":{},"skills":[{}],"events":[{}]}}"#,
            ),
            self.run,
            self.scenario,
            self.day,
            self.minutes,
            set,
            self.engine,
            self.book,
            self.rules,
            self.evidence.agent.code(),
            self.evidence.help.code(),
            self.evidence.hints,
            self.evidence.real_pace,
            self.evidence.whole,
            self.evidence.given,
            self.evidence.right,
            gravest.unwrap_or_default(),
            watch.caught,
            watch.missed,
            watch.let_pass,
            watch.over_called,
            skills.join(","),
            events.join(","),
        )
    }

    /// Reads one.
    ///
    /// # Errors
    /// The first field that is wrong, with what was there.
    pub fn parse(text: &str) -> Result<Self, Faults> {
        Self::of(&super::read(text, MOST_BYTES)?)
    }

    /// Takes one from its fields.
    pub(crate) fn of(tree: &Tree) -> Result<Self, Faults> {
        if tree.get("v").count() != Some(1) {
            return Err(tree.wrong("v", Code::NewerVersion));
        }
        Ok(Self {
            run: tree.id_of("run")?,
            scenario: tree.id_of("scenario")?,
            day: tree.count_of("day")?,
            minutes: tree.count_of("minutes")?,
            set: if *tree.get("set") == Tree::Nothing { None } else { Some(tree.id_of("set")?) },
            engine: tree.count_of("engine")?,
            book: tree.id_of("book")?,
            rules: tree.count_of("rules")?,
            evidence: evidence(tree)?,
        })
    }
}

fn evidence(tree: &Tree) -> Result<Evidence, Faults> {
    let flag = |name: &str| tree.get(name).flag().ok_or_else(|| tree.wrong(name, Code::WrongShape));
    let (given, right) = (tree.count_of("given")?, tree.count_of("right")?);
    if right > given {
        return Err(tree.wrong("right", Code::OutOfRange));
    }
    Ok(Evidence {
        agent: tree.coded("agent", Agent::from_code)?,
        help: tree.coded("help", Help::from_code)?,
        hints: tree.count_of("hints")?,
        real_pace: flag("real_pace")?,
        whole: flag("whole")?,
        events: events(tree)?,
        skills: skills(tree.get("skills")).ok_or_else(|| tree.wrong("skills", Code::WrongShape))?,
        given,
        right,
        gravest: if *tree.get("gravest") == Tree::Nothing {
            None
        } else {
            Some((tree.coded("gravest", RuleId::from_code)?, tree.coded("gravity", Gravity::from_code)?))
        },
        watch: Watch {
            caught: tree.count_of("caught")?,
            missed: tree.count_of("missed")?,
            let_pass: tree.count_of("let_pass")?,
            over_called: tree.count_of("over_called")?,
        },
    })
}

fn events(tree: &Tree) -> Result<Vec<Event>, Faults> {
    let list = tree.get("events").list().filter(|list| list.len() <= MOST_EVENTS);
    let event = |(number, pair): (usize, &Tree)| {
        let Some([code, well]) = pair.list() else { return Err(Faults::one(&place(number), Code::WrongShape, pair)) };
        let origin = code.text().and_then(Origin::from_code);
        let origin = origin.ok_or_else(|| Faults::one(&place(number), Code::UnknownCode, code))?;
        let well = well.flag().ok_or_else(|| Faults::one(&place(number), Code::WrongShape, well))?;
        Ok(Event { origin, well })
    };
    list.ok_or_else(|| tree.wrong("events", Code::WrongShape))?.iter().enumerate().map(event).collect()
}

fn place(number: usize) -> String {
    format!("events[{number}]")
}

/// All eight, each no more often kept than it came up.
fn skills(list: &Tree) -> Option<[Tally; Skill::ALL.len()]> {
    let tally = |pair: &Tree| match pair.list()? {
        [kept, came_up] => {
            let tally = Tally { kept: kept.count()?, came_up: came_up.count()? };
            (tally.kept <= tally.came_up).then_some(tally)
        }
        _ => None,
    };
    list.list()?.iter().map(tally).collect::<Option<Vec<Tally>>>()?.try_into().ok()
}

#[cfg(test)]
impl OutcomeV1 {
    /// A whole run without help in which these came up and all else went well, made up for tests.
    pub(crate) fn made_up(agent: Agent, day: u32, events: Vec<Event>) -> Self {
        Self {
            run: "run".to_owned(),
            scenario: "unannounced".to_owned(),
            day,
            minutes: 18,
            set: None,
            engine: 2,
            book: "us".to_owned(),
            rules: 1,
            evidence: Evidence {
                agent,
                help: Help::Unaided,
                hints: 0,
                real_pace: true,
                whole: true,
                events,
                skills: [Tally { kept: 3, came_up: 4 }; Skill::ALL.len()],
                given: 1,
                right: 1,
                gravest: None,
                watch: Watch::default(),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trouble::Kind;

    fn outcome() -> OutcomeV1 {
        let event = |origin, well| Event { origin, well };
        let mut skills = [Tally { kept: 3, came_up: 4 }; Skill::ALL.len()];
        skills[7] = Tally::default();
        OutcomeV1 {
            run: "mhq2k1x0-5f3".to_owned(),
            scenario: "grinding-shop".to_owned(),
            day: 20_782,
            minutes: 34,
            set: None,
            engine: 2,
            book: "us".to_owned(),
            rules: 1,
            evidence: Evidence {
                agent: Agent::Sweet,
                help: Help::Unaided,
                hints: 0,
                real_pace: true,
                whole: true,
                events: vec![
                    event(Origin::Came(Kind::Stubble), true),
                    event(Origin::Came(Kind::Coughs), false),
                    event(Origin::Made(RuleId::FitTopUp), false),
                ],
                skills,
                given: 2,
                right: 1,
                gravest: Some((RuleId::FitTopUp, Gravity::Spoils)),
                watch: Watch { caught: 1, missed: 2, let_pass: 3, over_called: 4 },
            },
        }
    }

    #[test]
    fn what_is_written_is_read_as_the_same() {
        let plain = outcome();
        let mut other = outcome();
        other.set = Some("assessment-1".to_owned());
        other.evidence = Evidence { events: Vec::new(), gravest: None, whole: false, ..other.evidence };
        for outcome in [plain, other] {
            assert_eq!(OutcomeV1::parse(&outcome.written()).unwrap(), outcome);
        }
    }

    /// The first version's form, kept for ever.
    #[test]
    fn the_golden_outcome_still_opens() {
        let golden = include_str!("../../golden/outcome-v1.json").trim_end();
        assert_eq!(OutcomeV1::parse(golden).unwrap(), outcome());
        assert_eq!(outcome().written(), golden);
    }

    #[test]
    fn what_another_engine_or_other_rules_judged_is_not_current() {
        let scenario = crate::unannounced::draw_up(Agent::Bitter, 1);
        let log = [Entry::act(crate::units::Ms(60_001), crate::act::Act::Finish)];
        let evidence = Evidence { agent: Agent::Bitter, ..outcome().evidence };
        let new = OutcomeV1::new("run-1", 7, &scenario, &log, evidence);
        assert!(new.is_current());
        assert_eq!((new.minutes, new.scenario.as_str(), new.day), (2, "unannounced", 7));
        assert!(!OutcomeV1 { engine: new.engine - 1, ..new.clone() }.is_current());
        assert!(!OutcomeV1 { rules: new.rules + 1, ..new.clone() }.is_current());
        assert!(!OutcomeV1 { book: "elsewhere".to_owned(), ..new }.is_current());
    }

    #[test]
    fn what_is_wrong_is_named() {
        let written = OutcomeV1 { set: Some("a-1".to_owned()), ..outcome() }.written();
        for (field, from, to) in [
            ("v", r#""v":1"#, r#""v":2"#),
            ("run", "mhq2k1x0-5f3", "../x"),
            ("scenario", "grinding-shop", ""),
            ("set", "a-1", "a b"),
            ("agent", "sweet", "salty"),
            ("help", "unaided", "much"),
            ("real_pace", r#""real_pace":true"#, r#""real_pace":1"#),
            ("right", r#""right":1"#, r#""right":3"#),
            ("gravest", r#""gravest":"fit"#, r#""gravest":"fat"#),
            ("gravity", "spoils", "grave"),
            ("skills", "[3,4]", "[5,4]"),
            ("skills", "[3,4],", ""),
            ("events[1]", "coughs", "yawns"),
            ("events[0]", r#"["stubble",true]"#, r#"["stubble"]"#),
            ("events[0]", r#"["stubble",true]"#, r#"["stubble",1]"#),
            ("events", r#""events":["#, r#""then":["#),
        ] {
            let damaged = written.replacen(from, to, 1);
            assert_ne!(damaged, written, "{field}");
            let faults = OutcomeV1::parse(&damaged).unwrap_err();
            assert_eq!(faults.list()[0].path, field, "{damaged}");
        }
    }

    #[test]
    fn the_longest_that_is_written_can_be_read() {
        let mut longest = outcome();
        let code = |origin: &Origin| origin.code().len();
        let rules = RuleId::ALL.iter().copied().map(Origin::Made);
        let origin = Kind::ALL.iter().copied().map(Origin::Came).chain(rules).max_by_key(code).unwrap();
        longest.evidence.events = vec![Event { origin, well: false }; MOST_EVENTS];
        (longest.run, longest.scenario, longest.set) = ("a".repeat(64), "b".repeat(64), Some("c".repeat(64)));
        assert_eq!(OutcomeV1::parse(&longest.written()).unwrap(), longest);
        longest.evidence.events.push(Event { origin, well: false });
        assert_eq!(OutcomeV1::parse(&longest.written()).unwrap_err().list()[0].path, "events");
    }
}
