//! Wall time. The core never sees it.

use js_sys::{Function, Promise};
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;
use web_sys::Window;

/// Milliseconds of a clock that never runs back, since the page was opened.
pub(crate) fn now_ms() -> u64 {
    let now = web_sys::window().and_then(|window| window.performance()).map_or(0.0, |performance| performance.now());
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a page is not open for 500 million years"
    )]
    let whole = now as u64;
    whole
}

/// Milliseconds since 1 January 1970, by a clock that people set.
pub(crate) fn epoch_ms() -> u64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number below 2^53")]
    let now = js_sys::Date::now() as u64;
    now
}

/// The date and time as ISO 8601, for people to read.
pub(crate) fn iso_now() -> String {
    js_sys::Date::new_0().to_iso_string().into()
}

/// A date and time as ISO 8601, as the browser writes it in the language of the page; as it is where it is no date.
pub(crate) fn shown(iso: &str) -> String {
    let date = js_sys::Date::new(&iso.into());
    if date.get_time().is_nan() {
        return iso.to_owned();
    }
    let options = js_sys::Object::new();
    for (name, value) in [("dateStyle", "medium"), ("timeStyle", "short")] {
        // A plain object takes any property.
        let _ = js_sys::Reflect::set(&options, &name.into(), &value.into());
    }
    date.to_locale_string(&super::language::locale(&super::language::spoken()), &options).into()
}

/// Waits so many milliseconds.
pub(crate) async fn wait(ms: i32) {
    called(|window, done| window.set_timeout_with_callback_and_timeout_and_arguments_0(done, ms).map(drop)).await;
}

/// How long a frame is waited for, in milliseconds: where the page is hidden none comes.
const FRAME_MS: i32 = 50;

/// Waits until what has been drawn by now is on the screen.
pub(crate) async fn painted() {
    called(|window, done| {
        window.set_timeout_with_callback_and_timeout_and_arguments_0(done, FRAME_MS)?;
        // A task of its own comes after the frame. Where it comes first, the other is in vain.
        let (after, done) = (window.clone(), done.clone());
        let framed = Closure::once_into_js(move || after.set_timeout_with_callback(&done).map(drop));
        window.request_animation_frame(framed.unchecked_ref()).map(drop)
    })
    .await;
}

/// Waits until the browser calls back what it is given by `ask`; not at all where there is no window to ask.
async fn called(ask: impl Fn(&Window, &Function) -> Result<(), JsValue>) {
    let promise = Promise::new(&mut |resolve, _| {
        let asked = web_sys::window().ok_or(JsValue::NULL).and_then(|window| ask(&window, &resolve));
        if asked.is_err() {
            let _ = resolve.call0(&JsValue::NULL);
        }
    });
    let _ = JsFuture::from(promise).await;
}

/// A day, counted from 1 January 1970, as the browser writes it in the language of the page.
pub(crate) fn date(day: u32) -> String {
    written(day, &[("dateStyle", "long")])
}

/// The same, shorter.
pub(crate) fn short_date(day: u32) -> String {
    written(day, &[("dateStyle", "medium")])
}

/// The month in which a day lies, likewise.
pub(crate) fn month(day: u32) -> String {
    written(day, &[("month", "long"), ("year", "numeric")])
}

/// The same for programs: the date alone as ISO 8601.
pub(crate) fn iso_date(day: u32) -> String {
    String::from(begin_of(day).to_iso_string()).chars().take_while(|letter| *letter != 'T').collect()
}

fn begin_of(day: u32) -> js_sys::Date {
    js_sys::Date::new(&(f64::from(day) * 86_400_000.0).into())
}

fn written(day: u32, how: &[(&str, &str)]) -> String {
    let date = begin_of(day);
    let options = js_sys::Object::new();
    for (name, value) in how.iter().copied().chain([("timeZone", "UTC")]) {
        // A plain object takes any property.
        let _ = js_sys::Reflect::set(&options, &name.into(), &value.into());
    }
    date.to_locale_date_string(&super::language::locale(&super::language::spoken()), &options).into()
}

/// An id for a new run: time and chance, in base 36, so that ids sort by age.
pub(crate) fn new_id() -> String {
    let time = js_sys::Number::from(js_sys::Date::now()).to_string_with_radix(36).map(String::from).unwrap_or_default();
    let chance =
        js_sys::Number::from(js_sys::Math::floor(js_sys::Math::random() * 1_679_616.0)).to_string_with_radix(36);
    format!("{time}-{}", chance.map(String::from).unwrap_or_default())
}

/// A seed for what is drawn.
pub(crate) fn new_seed() -> u64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number below 2^53")]
    let seed = js_sys::Math::floor(js_sys::Math::random() * 9_007_199_254_740_992.0) as u64;
    seed
}

/// Today, in days since 1 January 1970 where the page is.
pub(crate) fn today() -> u32 {
    day_of(&js_sys::Date::new_0())
}

/// The day of a date and time in ISO 8601, likewise; today where it is none.
pub(crate) fn day(iso: &str) -> u32 {
    let date = js_sys::Date::new(&iso.into());
    if date.get_time().is_nan() { today() } else { day_of(&date) }
}

fn day_of(now: &js_sys::Date) -> u32 {
    let local = now.get_time() - now.get_timezone_offset() * 60_000.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "days since 1970 are few")]
    let days = (local / 86_400_000.0) as u32;
    days
}
