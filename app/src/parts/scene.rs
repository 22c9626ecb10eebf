//! The rehearsal as a picture: the wearer, the hood, the bench, the conductor's hand. It shows what the core says there
//! is to see and nothing besides; its text equivalent is handed in with it, made from the same scene.

mod arm;
mod bench;
mod body;
mod closeup;
mod face;
mod facepiece;
mod gear;
mod hair;
mod hand;
mod head;
mod hood;
pub(crate) mod inside;
mod mist;
mod motion;
mod mouth;
mod nebulizer;
mod palette;
mod pen;
mod room;
mod seal;
mod straps;

use bittersweet_core::{
    act::{Aim, Exercise, Role},
    facepiece::Class,
    scenario::Face,
    scene::{Hand, Head, Hood, Ill, Off, Scene},
    sign::Gear,
};
use face::Mien;
use mouth::Lips;
use std::rc::Rc;
use yew::{AttrValue, Html, Properties, classes, component, html};

/// What the picture is made from.
#[derive(Clone, Debug, PartialEq, Properties)]
pub(crate) struct SceneProps {
    /// What there is to see.
    pub scene: Rc<Scene>,
    /// The same in words, one paragraph.
    pub label: AttrValue,
}

/// The picture.
#[component]
pub(crate) fn SceneView(props: &SceneProps) -> Html {
    let scene = &*props.scene;
    let class = classes!(
        "scene",
        palette::tint(scene.agent),
        palette::skin(scene.look),
        palette::hair(scene.look),
        (scene.ill == Some(Ill::ChestPain)).then_some(palette::ASHEN),
    );
    html! {
        <svg {class} viewBox="-6 -20 506 548" role="img" aria-labelledby="scene-title">
            <title id="scene-title">{ &props.label }</title>
            { room::behind(scene.around) }
            { if scene.seated { body::chair() } else { Html::default() } }
            { motion::person(scene, person(scene)) }
            { motion::marks(scene) }
            { bench::bench(scene) }
            { for scene.close.as_ref().map(|close| closeup::closeup(close, scene)) }
        </svg>
    }
}

/// From behind to before: far wall of the hood, body, head, breath, mist, near wall, nebulizer, arm.
fn person(scene: &Scene) -> Html {
    let jogging = scene.exercise == Some(Exercise::Jogging);
    let trunk = html! {
        <>
            { arm::far(jogging) }
            { head::neck() }
            { body::trunk() }
            { if scene.exercise == Some(Exercise::DeepBreathing) { body::full_chest() } else { Html::default() } }
            { scene.worn.map(|worn| facepiece::supply(worn.class)) }
        </>
    };
    let taken_off = scene.off == Some(Off::InHand);
    let arm = match (scene.hand, scene.exercise) {
        (Hand::Down, Some(Exercise::Jogging)) => arm::jogging(),
        (Hand::Down, Some(Exercise::Bending)) => arm::hanging(),
        (Hand::AtHood, _) if taken_off => arm::with_hood(),
        (does, _) => arm::arm(does),
    };
    // An arm at rest breathes with the body.
    let arm = if scene.hand == Hand::Down { motion::trunk(scene.exercise, arm) } else { arm };
    // A hand at the face is under the hood; any other is outside it.
    let inside = matches!(scene.hand, Hand::AtMask | Hand::AtStrap | Hand::AtForehead | Hand::WithCup);
    let (arm_inside, arm_outside) = if inside { (arm, Html::default()) } else { (Html::default(), arm) };
    let far_wall = scene.hood.map(|worn| hung(worn, hood::back()));
    let near_wall =
        scene.hood.map(|worn| hung(worn, html! { <>{ mist::mist(worn.mist) }{ hood::front(worn.fogged) }</> }));
    let breath = motion::breath(scene);
    let breath = match scene.hood {
        Some(worn) => hung(worn, breath),
        None => pen::placed("translate(-18 24)", breath),
    };
    let off = scene.off.map(|off| match off {
        Off::InHand => hood::taken_off(),
        Off::Lifted => hood::lifted(),
    });
    html! {
        <>
            { far_wall }
            { motion::trunk(scene.exercise, trunk) }
            { motion::head(scene.exercise, scene.rushed, head(scene)) }
            { arm_inside }
            { room::helper(scene.around) }
            { breath }
            { near_wall }
            { off }
            { held(scene) }
            { arm_outside }
        </>
    }
}

/// A part of the hood, or what is in it, as the hood hangs.
fn hung(worn: Hood, wall: Html) -> Html {
    let wall = if worn.near { hood::near(wall) } else { wall };
    if worn.swings { hood::swung(wall) } else { wall }
}

/// The nebulizer in the conductor's hand, through the hole wherever the hood has it.
fn held(scene: &Scene) -> Html {
    let Some(held) = scene.held else { return Html::default() };
    let [check, fit] = scene.nebulizers;
    let nebulizer = match held.role {
        Role::Check => check,
        Role::Fit => fit,
    };
    let drawn = nebulizer::held(held, nebulizer, scene.agent);
    let Some(worn) = scene.hood else { return pen::placed("translate(40 60)", drawn) };
    let drawn = match (worn.near, held.aim) {
        (false, _) => drawn,
        // Short of the nose.
        (true, Aim::AtMouth) => pen::placed("translate(-30 0)", drawn),
        (true, Aim::Away) => pen::placed("translate(-41 0)", drawn),
    };
    html! { <>{ if worn.swings { hood::swung(drawn) } else { drawn } }{ hung(worn, hood::lip(held.aim)) }</> }
}

/// The head with everything on it, from the skin outwards.
fn head(scene: &Scene) -> Html {
    let look = scene.look;
    let helmeted = scene.gear.contains(&Gear::Helmet);
    let wide = scene.worn.is_some_and(|worn| matches!(worn.class, Class::Full | Class::Powered));
    let covered = scene.face == Face::Covering;
    let mien = match scene.exercise {
        Some(Exercise::Grimace) => Mien::Strained,
        _ if scene.ill.is_some() => Mien::Unwell,
        _ => match scene.head {
            Some(Head::Coughs | Head::PullsFace) => Mien::Strained,
            Some(Head::LooksRound) => Mien::Aside,
            Some(Head::Nods | Head::Shakes) | None => Mien::Calm,
        },
    };
    let lips = match scene.exercise {
        Some(Exercise::Grimace) => Lips::Grimace,
        Some(Exercise::Talking) => Lips::Speak,
        _ if scene.ill == Some(Ill::Wheezes) => Lips::Swollen,
        _ if scene.ill.is_some() => Lips::Unwell,
        _ if scene.head == Some(Head::Coughs) => Lips::Speak,
        _ => Lips::Are(scene.mouth),
    };
    html! {
        <>
            { if covered { Html::default() } else { hair::behind(look.hair) } }
            { head::head(look.shape) }
            { if covered { Html::default() } else { seal::on_skin(scene.face) } }
            { mouth::mouth(lips) }
            { face::nose(look.shape) }
            { face::eyes(look.shape, mien) }
            { if covered { seal::on_skin(scene.face) } else { hair::on_top(look.hair) } }
            { if covered { Html::default() } else { head::ear() } }
            { if scene.ill.is_some() { face::sweat() } else { Html::default() } }
            { seal::before_eyes(scene.face) }
            { scene.worn.map(facepiece::facepiece) }
            { if scene.drop { pen::placed(if scene.worn.is_some() { "translate(-4 12)" } else { "" }, mouth::drop()) } else { Html::default() } }
            { if scene.face == Face::TempleBar && wide { seal::pinched() } else { Html::default() } }
            { for scene.gear.iter().map(|gear| gear::gear(*gear, helmeted)) }
        </>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::{
        facepiece::Size,
        rulebook::Agent,
        scenario::Look,
        scene::{Around, Close, Held, Liquid, Mouth, Nebulizer, Object, Tag, Worn},
        sign::Seen,
    };
    use futures::executor::block_on;
    use yew::ServerRenderer;

    #[test]
    fn every_hand_is_drawn_in_its_own_way() {
        distinct(Hand::ALL.iter().map(|hand| with(|scene| scene.hand = *hand)));
        distinct(Hand::ALL.iter().map(|hand| hooded(|scene| scene.hand = *hand)));
    }

    #[test]
    fn every_exercise_is_drawn_in_its_own_way_and_the_last_as_the_first() {
        let exercises = Exercise::ALL.iter().copied().filter(|exercise| *exercise != Exercise::NormalAgain);
        distinct(exercises.map(Some).chain([None]).map(|exercise| hooded(|scene| scene.exercise = exercise)));
        let [first, last] = [Exercise::NormalBreathing, Exercise::NormalAgain]
            .map(|exercise| hooded(|scene| scene.exercise = Some(exercise)));
        assert_eq!(first, last);
    }

    #[test]
    fn haste_is_seen_in_every_exercise() {
        for exercise in Exercise::ALL {
            distinct([false, true].map(|rushed| {
                hooded(|scene| {
                    scene.exercise = Some(*exercise);
                    scene.rushed = rushed;
                })
            }));
        }
    }

    #[test]
    fn every_class_size_and_fault_of_a_facepiece_is_drawn_in_its_own_way() {
        let sits = [
            (None, false),
            (None, true),
            (Some(Seen::StrapTwisted), false),
            (Some(Seen::StrapsTight), false),
            (Some(Seen::NosepieceFlat), false),
        ];
        let worn = Class::ALL.iter().flat_map(|class| {
            Size::ALL.iter().flat_map(move |size| {
                sits.map(|(fault, slipped)| Some(Worn { class: *class, size: *size, fault, slipped }))
            })
        });
        distinct(worn.chain([None]).map(|worn| with(|scene| scene.worn = worn)));
    }

    #[test]
    fn what_lies_on_the_rack_is_drawn_by_class_and_size_and_an_empty_place_is_left() {
        let lying = Class::ALL.iter().flat_map(|class| Size::ALL.iter().map(move |size| Some((*class, *size))));
        distinct(lying.chain([None]).map(|place| with(|scene| scene.rack = vec![place])));
        let gone = |place: usize| {
            with(|scene| {
                scene.rack = vec![Some((Class::Half, Size::Medium)); 3];
                scene.rack[place] = None;
            })
        };
        distinct((0..3).map(gone));
    }

    #[test]
    fn every_face_and_mouth_is_drawn_in_its_own_way() {
        distinct(Face::ALL.iter().map(|face| with(|scene| scene.face = *face)));
        distinct([Mouth::Rest, Mouth::TongueOut, Mouth::Shut].map(|mouth| hooded(|scene| scene.mouth = mouth)));
    }

    #[test]
    fn what_lies_under_the_seal_is_still_drawn_with_any_facepiece_on() {
        for class in Class::ALL {
            distinct([Face::Clear, Face::Stubble, Face::Beard, Face::TempleBar, Face::Covering].map(|face| {
                with(|scene| {
                    scene.face = face;
                    scene.worn = Some(worn(*class));
                })
            }));
        }
    }

    #[test]
    fn every_look_is_somebody_else() {
        let looks =
            (0..6).flat_map(|skin| (0..6).flat_map(move |hair| (0..4).map(move |shape| Look { skin, hair, shape })));
        distinct(looks.map(|look| with(|scene| scene.look = look)));
    }

    #[test]
    fn sickness_a_drop_a_seat_a_cough_and_a_look_aside_are_seen() {
        distinct([with(|_| {}), with(|scene| scene.drop = true), with(|scene| scene.seated = true)]);
        distinct(Head::ALL.iter().copied().map(Some).chain([None]).map(|head| with(|scene| scene.head = head)));
        distinct(Ill::ALL.iter().copied().map(Some).chain([None]).map(|ill| with(|scene| scene.ill = ill)));
    }

    #[test]
    fn the_three_kinds_of_sickness_are_told_apart_with_a_facepiece_on() {
        distinct(Ill::ALL.iter().copied().map(Some).chain([None]).map(|ill| {
            hooded(|scene| {
                scene.ill = ill;
                scene.worn = Some(worn(Class::Half));
            })
        }));
    }

    #[test]
    fn a_drop_is_seen_below_any_facepiece() {
        for class in Class::ALL {
            let with_drop = with(|scene| {
                scene.worn = Some(worn(*class));
                scene.drop = true;
            });
            // The marks of its size are the last of a facepiece.
            let [piece, drop] = ["M229 239v5M235 240v5", "M238 232C230 243"].map(|part| with_drop.find(part));
            assert!(piece.is_some() && piece < drop, "{class:?}: {piece:?} {drop:?}");
        }
    }

    #[test]
    fn a_whisper_is_told_from_speech() {
        distinct([false, true].map(|whispers| {
            hooded(|scene| {
                scene.exercise = Some(Exercise::Talking);
                scene.whispers = whispers;
            })
        }));
    }

    #[test]
    fn a_close_look_shows_what_was_seen_and_its_absence() {
        let look = |object: Object, seen: &[Seen]| {
            let close = Some(Close { object, seen: seen.to_vec() });
            with(|scene| scene.close = close)
        };
        distinct([vec![Seen::BottleDated], vec![Seen::BottleUndated]].map(|seen| look(Object::Bottle, &seen)));
        distinct([vec![Seen::HoodClean], vec![Seen::HoodDamp]].map(|seen| look(Object::Hood, &seen)));
        for role in [Role::Check, Role::Fit] {
            distinct([vec![Seen::SpraysFine], vec![Seen::SpraysNothing]].map(|seen| look(Object::Spray(role), &seen)));
        }
        for class in Class::ALL {
            distinct(
                [
                    vec![Seen::FacepieceSound, Seen::FiltersParticulate],
                    vec![Seen::FacepieceSound, Seen::FiltersGasOnly],
                    vec![Seen::FacepieceSound, Seen::FacepieceUsed],
                    vec![Seen::ValveMissing],
                    vec![Seen::FilterAskew],
                    vec![Seen::StrapCracked],
                ]
                .map(|seen| look(Object::Facepiece(*class), &seen)),
            );
        }
        for class in [Class::Powered, Class::Supplied] {
            distinct([vec![], vec![Seen::AirSupplied]].map(|seen| look(Object::Facepiece(class), &seen)));
        }
    }

    #[test]
    fn a_hood_lifted_differs_from_one_taken_off() {
        distinct(Off::ALL.iter().copied().map(Some).chain([None]).map(|off| {
            with(|scene| {
                scene.hand = Hand::AtHood;
                scene.off = off;
            })
        }));
    }

    #[test]
    fn every_piece_of_gear_is_seen() {
        distinct(
            Gear::ALL
                .iter()
                .map(|gear| vec![*gear])
                .chain([Vec::new(), Gear::ALL.to_vec()])
                .map(|gear| with(|scene| scene.gear = gear.clone())),
        );
    }

    #[test]
    fn every_state_of_the_hood_is_drawn_in_its_own_way() {
        let hoods = (0..=5).flat_map(|mist| {
            [
                (false, false, false),
                (false, true, false),
                (true, false, false),
                (true, true, true),
                (false, false, true),
            ]
            .map(|(near, fogged, swings)| Some(Hood { near, fogged, swings, mist }))
        });
        distinct(hoods.chain([None]).map(|hood| with(|scene| scene.hood = hood)));
    }

    #[test]
    fn every_state_of_the_nebulizer_in_hand_is_drawn_in_its_own_way() {
        let held = [Role::Check, Role::Fit].into_iter().flat_map(|role| {
            [Aim::Away, Aim::AtMouth].into_iter().flat_map(move |aim| {
                [(false, false), (true, false), (false, true), (true, true)]
                    .map(|(pressed, failing)| Some(Held { role, aim, pressed, failing }))
            })
        });
        distinct(held.chain([None]).map(|held| hooded(|scene| scene.held = held)));
    }

    #[test]
    fn what_a_look_at_a_nebulizer_showed_is_drawn_on_that_one() {
        for in_hand in [false, true] {
            for place in 0..2 {
                let looked = Tag::ALL.iter().copied().map(Some).chain([None]);
                let states = looked.flat_map(|tag| {
                    [
                        (tag, Liquid::Enough, false),
                        (tag, Liquid::Low, false),
                        (tag, Liquid::Nothing, false),
                        (tag, Liquid::Enough, true),
                    ]
                });
                distinct(states.map(|(tag, liquid, crusted)| {
                    with(|scene| {
                        let nebulizer = &mut scene.nebulizers[place];
                        (nebulizer.tag, nebulizer.liquid, nebulizer.crusted) = (tag, liquid, crusted);
                        let role = nebulizer.role;
                        scene.held =
                            in_hand.then_some(Held { role, aim: Aim::AtMouth, pressed: false, failing: false });
                    })
                }));
            }
        }
    }

    #[test]
    fn the_agent_changes_nothing_but_the_tint_and_the_mark_on_a_tag() {
        let [sweet, bitter] = [Agent::Sweet, Agent::Bitter].map(|agent| {
            with(|scene| {
                scene.agent = agent;
                scene.nebulizers[0].tag = None;
                scene.nebulizers[1].tag = None;
            })
        });
        assert_ne!(sweet, bitter);
        assert_eq!(sweet, bitter.replacen("scene bitter", "scene sweet", 1));
        distinct(
            [Agent::Sweet, Agent::Bitter]
                .map(|agent| with(|scene| scene.agent = agent).replacen("scene bitter", "scene sweet", 1)),
        );
    }

    #[test]
    fn the_picture_is_named_by_its_words() {
        let markup = with(|_| {});
        assert!(markup.contains(r#"aria-labelledby="scene-title""#));
        assert!(markup.contains(r#"<title id="scene-title">in words</title>"#));
    }

    #[test]
    fn every_class_has_a_rule_in_the_style_sheet() {
        let sheet = include_str!("../../../static/scene.css");
        for markup in everything() {
            for class in markup
                .split(r#"class=""#)
                .skip(1)
                .filter_map(|rest| rest.split('"').next())
                .flat_map(str::split_whitespace)
            {
                // Black hair is what the other colours depart from.
                let known = class == "hair-black" || sheet.contains(&format!(".{class}"));
                assert!(known, "no rule for {class}");
            }
        }
    }

    #[test]
    fn nothing_is_styled_in_place() {
        assert!(everything().iter().all(|markup| !markup.contains("style=")));
    }

    /// Scenes that between them use every part.
    fn everything() -> Vec<String> {
        let held = Some(Held { role: Role::Fit, aim: Aim::Away, pressed: true, failing: false });
        let mut drawn: Vec<String> = Vec::new();
        drawn.extend(Exercise::ALL.iter().map(|exercise| hooded(|scene| scene.exercise = Some(*exercise))));
        drawn.extend(Face::ALL.iter().map(|face| with(|scene| scene.face = *face)));
        drawn.extend(Class::ALL.iter().map(|class| with(|scene| scene.worn = Some(worn(*class)))));
        drawn.push(with(|scene| {
            scene.rack = Class::ALL.iter().map(|class| Some((*class, Size::Medium))).chain([None]).collect();
        }));
        drawn.extend(Hand::ALL.iter().map(|hand| with(|scene| scene.hand = *hand)));
        drawn.extend((0..6).map(|kind| with(|scene| scene.look = Look { skin: kind, hair: kind, shape: kind })));
        let seen = vec![Seen::FacepieceUsed, Seen::FilterAskew, Seen::StrapCracked, Seen::AirSupplied, Seen::HoodDamp];
        let objects = [
            Object::Bottle,
            Object::Hood,
            Object::Spray(Role::Fit),
            Object::Nebulizer(Role::Fit),
            Object::Facepiece(Class::Powered),
        ];
        drawn.extend(objects.map(|object| {
            let close = Some(Close { object, seen: seen.clone() });
            with(|scene| scene.close = close)
        }));
        drawn.push(with(|scene| {
            scene.seated = true;
            scene.rushed = true;
            scene.ill = Some(Ill::ChestPain);
            scene.drop = true;
            scene.gear = Gear::ALL.to_vec();
            scene.hood = Some(Hood { near: true, fogged: true, swings: true, mist: 5 });
            scene.mouth = Mouth::TongueOut;
            scene.nebulizers[0].tag = Some(Tag::Blank);
            scene.nebulizers[1].crusted = true;
            scene.held = held;
        }));
        drawn
    }

    #[track_caller]
    fn distinct(drawn: impl IntoIterator<Item = String>) {
        let drawn: Vec<String> = drawn.into_iter().collect();
        for (at, one) in drawn.iter().enumerate() {
            let twin = drawn.iter().take(at).position(|other| other == one);
            assert_eq!(twin, None, "number {at} is drawn like an earlier one");
        }
        assert!(drawn.len() > 1, "nothing was compared");
    }

    #[test]
    fn what_goes_on_around_is_drawn_each_in_its_own_way() {
        distinct(Around::ALL.iter().copied().map(Some).chain([None]).map(|around| with(|scene| scene.around = around)));
    }

    fn worn(class: Class) -> Worn {
        Worn { class, size: Size::Medium, fault: None, slipped: false }
    }

    fn hooded(change: impl FnOnce(&mut Scene)) -> String {
        with(|scene| {
            scene.hood = Some(Hood { near: false, fogged: false, swings: false, mist: 2 });
            change(scene);
        })
    }

    fn with(change: impl FnOnce(&mut Scene)) -> String {
        let nebulizer = |role| Nebulizer { role, tag: Some(Tag::Own), liquid: Liquid::Enough, crusted: false };
        let mut scene = Scene {
            agent: Agent::Sweet,
            look: Look::default(),
            face: Face::Clear,
            seated: false,
            exercise: None,
            rushed: false,
            whispers: false,
            mouth: Mouth::Rest,
            hand: Hand::Down,
            head: None,
            ill: None,
            drop: false,
            gear: Vec::new(),
            worn: None,
            rack: vec![Some((Class::Half, Size::Medium))],
            hood: None,
            off: None,
            nebulizers: [nebulizer(Role::Check), nebulizer(Role::Fit)],
            held: None,
            around: None,
            close: None,
        };
        change(&mut scene);
        let props = move || SceneProps { scene: Rc::new(scene), label: "in words".into() };
        block_on(ServerRenderer::<SceneView>::with_props(props).hydratable(false).render())
    }
}
