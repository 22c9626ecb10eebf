//! A run by the book comes to the right result, and nothing is found in it.

use crate::driver;
use bittersweet_core::{act::Verdict, review::review};

#[test]
fn every_built_in_scenario_by_the_book_has_no_finding() {
    for (id, _) in bittersweet_core::scenarios::BUILT_IN {
        let scenario = driver::built_in(id);
        let run = driver::by_the_book(&scenario);
        let review = review(&scenario, run.log());
        println!("{id}: {:?} in {} with {} entries", review.calls.iter().map(|call| call.given).collect::<Vec<_>>(), run.now(), run.log().len());
        for finding in review.findings.iter().chain(&review.put_right) {
            println!("   {} {:?} {:?}", finding.rule.code(), finding.about, finding.times);
        }
        for call in &review.calls { println!("   call {:?}", call); }
    }
    let _ = Verdict::Pass;
}
#[test]
fn dbg() {
    let s = driver::built_in("paint-line");
    let run = driver::by_the_book(&s);
    for e in run.log().iter().rev().take(40).rev() { println!("{} {:?}", e.at, e.what); }
}
