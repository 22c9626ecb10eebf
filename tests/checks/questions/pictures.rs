//! The pictures of questions: whatever the seed, the engine makes one, it shows what it should, and nothing of what the wrong
//! options speak of.

use super::{bank, none};
use bittersweet_core::{
    question::{
        Task,
        ask::ask,
        picture::{Picture, at_that_moment, shows},
    },
    rulebook::Agent,
    run::Run,
    scene::Scene,
    trouble::{Kind, Trouble},
};
use std::rc::Rc;

/// Seeds with which each picture is made.
const SEEDS: u64 = 12;

/// The same acts where nothing comes up: `None` where that makes other acts impossible.
fn without_trouble(run: &Run) -> Option<Run> {
    let mut scenario = run.scenario().as_ref().clone();
    scenario.trouble.clear();
    let acts: Vec<_> = run.acts().collect();
    let mut quiet = Run::replay(Rc::new(scenario), &acts).ok()?;
    quiet.advance(run.now());
    Some(quiet)
}

#[test]
fn every_picture_shows_its_trouble_and_nothing_of_the_wrong_options() {
    let mut found = Vec::new();
    let mut pictures = 0;
    for asked in bank() {
        let Task::Picture(options, picture) = &asked.question.task else { continue };
        pictures += 1;
        let place = format!("{}.toml: {}", asked.file, asked.id());
        for agent in Agent::ALL.iter().copied().filter(|agent| asked.question.agents.has(*agent)) {
            for seed in 0..SEEDS {
                let seed = ask(seed, &asked.question, agent).seed;
                let Some(run) = at_that_moment(seed, agent, picture) else {
                    found.push(format!("{place}: trouble: no run shows it (seed {seed}, {})", agent.code()));
                    continue;
                };
                for (letter, kind) in options.letters.iter().zip(&picture.kinds) {
                    let Some(kind) = kind.filter(|_| !options.right.contains(letter)) else { continue };
                    if shows(&run, kind) {
                        found.push(format!("{place}: {letter}: {} shows too (seed {seed})", kind.code()));
                    }
                }
                // What only happens can be left out, and then there must be less to see.
                if !run.scenario().trouble.is_empty()
                    && without_trouble(&run).is_some_and(|quiet| Scene::of(&quiet) == Scene::of(&run))
                {
                    found.push(format!("{place}: trouble: nothing of {} is to be seen", picture.trouble.code()));
                }
            }
        }
    }
    assert!(pictures > 0, "there is a picture in the bank");
    none(&found);
}

/// What the format says can be shown, can be.
#[test]
fn a_picture_can_be_made_of_all_that_can_be_seen() {
    let seen = [
        Kind::Stubble,
        Kind::Beard,
        Kind::Moustache,
        Kind::TempleBar,
        Kind::Covering,
        Kind::StrapTwisted,
        Kind::StrapsTight,
        Kind::NosepieceFlat,
        Kind::Unmarked,
        Kind::Clogged,
        Kind::HelperTightens,
        Kind::TouchesMask,
        Kind::AdjustsMask,
        Kind::LiftsHood,
        Kind::HoodSlidesNear,
        Kind::SitsDown,
        Kind::Rushes,
        Kind::DropOnFace,
        Kind::HalfGesture,
        Kind::ChestPain,
        Kind::Wheezes,
        Kind::Breathless,
        Kind::WantsToStop,
        Kind::Clogs,
        Kind::Scratches,
        Kind::WindowFogs,
        Kind::MaskSlips,
        Kind::MouthShuts,
        Kind::SipsWater,
        Kind::Pressed,
        Kind::Queue,
        Kind::TwoAtOnce,
        Kind::PhoneRings,
        Kind::FireAlarm,
    ];
    let mut found = Vec::new();
    for trouble in seen {
        for agent in Agent::ALL.iter().copied() {
            for seed in 0..4 {
                match at_that_moment(seed, agent, &Picture { trouble, moment: None, kinds: Vec::new() }) {
                    Some(run) => {
                        assert!(shows(&run, trouble));
                        let planted: Vec<Kind> = run.scenario().trouble.iter().map(|one: &Trouble| one.kind).collect();
                        assert!(planted.iter().all(|kind| *kind == trouble), "{planted:?}");
                    }
                    None => found.push(format!("{} with {} and seed {seed}", trouble.code(), agent.code())),
                }
            }
        }
    }
    none(&found);
}
