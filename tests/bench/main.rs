//! Times natively what the library makes ready: one sample of each, as JSON.

#![expect(clippy::print_stdout, reason = "its one line is what it is run for")]

use bittersweet_bench::Bench;
use std::{env, hint::black_box, time::Instant};

/// How long a sample goes on at least.
const SECONDS: f64 = 0.3;

/// How many times between two looks at the clock.
const TIMES: u32 = 500;

fn main() {
    let bench = Bench::new();
    if env::args().nth(1).as_deref() == Some("model") {
        println!("{}", bench.model());
        return;
    }
    let rehearsal = per_second(|| bench.rehearse(TIMES));
    let plain = per_second(|| bench.plain(TIMES));
    println!(
        r#"{{"rehearsal":{rehearsal},"plain":{plain},"pair_ms":{},"shares_ms":{},"counts":{},"impression":{}}}"#,
        milliseconds(|| bench.pair()),
        milliseconds(|| bench.shares()),
        bench.counts(),
        bench.impression()
    );
}

/// How long one go takes, of ten.
fn milliseconds(work: impl Fn() -> f64) -> f64 {
    let start = Instant::now();
    for _ in 0..10 {
        black_box(work());
    }
    start.elapsed().as_secs_f64() * 100.0
}

fn per_second(work: impl Fn() -> u32) -> f64 {
    black_box(work());
    let (start, mut times) = (Instant::now(), 0.0);
    while start.elapsed().as_secs_f64() < SECONDS {
        black_box(work());
        times += f64::from(TIMES);
    }
    times / start.elapsed().as_secs_f64()
}
