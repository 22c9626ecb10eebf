//! The teaching model's parameters: TOML in, one Rust table out.

use crate::faults::Faults;
use serde::Deserialize;
use std::{fmt::Write as _, fs, path::Path};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    parameter: Vec<Parameter>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Parameter {
    id: String,
    unit: String,
    all: Option<f64>,
    sweet: Option<[f64; 2]>,
    bitter: Option<[f64; 2]>,
    least: f64,
    most: f64,
    origin: String,
    why: String,
}

/// In the order of the agents and sets: sweet accepted, sweet less, bitter accepted, bitter less.
const PLACES: [&str; 4] = ["SWEET_ACCEPTED", "SWEET_LESS", "BITTER_ACCEPTED", "BITTER_LESS"];
const ORIGINS: &[&str] = &["derived", "calibrated", "assumption"];
const NAMES: &[&str] = &[
    "half_life_s",
    "gathers_s",
    "slope",
    "reach",
    "lapse",
    "false_report",
    "tiring",
    "threshold_median",
    "threshold_spread",
    "sitting_spread",
    "fit_median",
    "fit_spread",
    "suggestible",
];

/// Generates the four sets of `Parameters` and `ORIGINS`, what is said of each.
pub(crate) fn generate(file: &Path, faults: &mut Faults) -> String {
    let text = fs::read_to_string(file).unwrap_or_default();
    let read: File = match toml::from_str(&text) {
        Ok(read) => read,
        Err(error) => {
            faults.push("model.toml", &error.to_string());
            return String::new();
        }
    };
    let mut rows = String::new();
    let mut sets = PLACES.map(|_| String::new());
    for name in NAMES {
        if read.parameter.iter().filter(|one| one.id == *name).count() != 1 {
            faults.push(&format!("model.toml: {name}"), "stands in it not once");
        }
    }
    for one in &read.parameter {
        let place = format!("model.toml: {}", one.id);
        if !NAMES.contains(&one.id.as_str()) {
            faults.push(&place, "is no parameter of the model");
        }
        if !ORIGINS.contains(&one.origin.as_str()) {
            faults.push(&place, &format!("origin is none of {}", ORIGINS.join(", ")));
        }
        let values = match (one.all, one.sweet, one.bitter) {
            (Some(value), None, None) => [value; 4],
            (None, Some([a, b]), Some([c, d])) => [a, b, c, d],
            _ => {
                faults.push(&place, "has neither `all` alone nor `sweet` and `bitter`");
                continue;
            }
        };
        if values.iter().any(|value| !(one.least..=one.most).contains(value)) {
            faults.push(&place, &format!("is outside {} to {}", one.least, one.most));
        }
        for (set, value) in sets.iter_mut().zip(values) {
            let _ = write!(set, "{}: {value:?}, ", one.id);
        }
        let Parameter { id, unit, origin, why, least, most, .. } = one;
        let _ = writeln!(
            rows,
            "Origin {{ name: {id:?}, unit: {unit:?}, origin: {origin:?}, why: {why:?}, least: {least:?}, most: {most:?} }},"
        );
    }
    let mut out = format!("/// Where each parameter is from.\npub const ORIGINS: &[Origin] = &[{rows}];\n");
    for (name, set) in PLACES.iter().zip(sets) {
        let _ = writeln!(out, "const {name}: Parameters = Parameters {{ {set} }};");
    }
    out
}
