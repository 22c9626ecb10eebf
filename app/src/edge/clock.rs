//! Wall time. The core never sees it.

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
    let promise = js_sys::Promise::new(&mut |resolve, _| {
        if let Some(window) = web_sys::window() {
            // Nothing is waited for where there is no window.
            let _ = window.set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, ms);
        }
    });
    let _ = wasm_bindgen_futures::JsFuture::from(promise).await;
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
