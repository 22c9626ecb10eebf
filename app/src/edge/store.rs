//! The store on this device: IndexedDB, one record an act.
//!
//! Whatever goes wrong here, the page goes on in memory; the caller is told and offers the log as a file. Six object
//! stores: `runs` (a header each), `acts` (a line each, by run and number), `outcomes` (one for each run that was ended here),
//! `answers` (one each, in the order in which they were given), `sittings` (an assessment each) and `settings`.

use js_sys::{Array, Function, Object, Promise, Reflect};
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;
use web_sys::{IdbDatabase, IdbKeyRange, IdbObjectStoreParameters, IdbRequest, IdbTransaction, IdbTransactionMode};

/// Counts up when an object store is added; what is there stays.
const VERSION: u32 = 3;
const RUNS: &str = "runs";
const ACTS: &str = "acts";
const OUTCOMES: &str = "outcomes";
const ANSWERS: &str = "answers";
const SITTINGS: &str = "sittings";
const SETTINGS: &str = "settings";

/// How sure a write has to be before it counts.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sure {
    /// Handed to the system: survives the browser being killed.
    Relaxed,
    /// Written out: for the end of a phase or a run.
    Strict,
}

/// The open store.
#[derive(Clone)]
pub(crate) struct Store {
    database: IdbDatabase,
    _yielding: Rc<Closure<dyn Fn()>>,
}

/// A run as it is kept.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Kept {
    /// Its id.
    pub(crate) id: String,
    /// The header of its ledger.
    pub(crate) header: String,
}

/// The database of this page's folder, so that two installations on one host stay apart.
fn name() -> String {
    let path = web_sys::window().and_then(|window| window.location().pathname().ok()).unwrap_or_default();
    let folder = path.rfind('/').map_or("/", |end| &path[..=end]);
    format!("bittersweet:{folder}")
}

impl Store {
    /// Opens the store, made anew if there was none.
    pub(crate) async fn open() -> Result<Self, JsValue> {
        let factory = web_sys::window().ok_or(JsValue::NULL)?.indexed_db()?.ok_or(JsValue::NULL)?;
        let request = factory.open_with_u32(&name(), VERSION)?;
        let opening = request.clone();
        let upgrade = Closure::once_into_js(move || {
            if let Ok(database) = opening.result() {
                // A failure here fails the opening itself, which is reported below.
                let _ = make_stores(&database.unchecked_into());
            }
        });
        request.set_onupgradeneeded(Some(upgrade.unchecked_ref()));
        let database: IdbDatabase = outcome(&request).await?.unchecked_into();
        // Another page that wants to change or remove the store is not held up by this one.
        let held = database.clone();
        let yielding = Closure::<dyn Fn()>::new(move || held.close());
        database.set_onversionchange(Some(yielding.as_ref().unchecked_ref()));
        Ok(Self { database, _yielding: Rc::new(yielding) })
    }

    /// Appends lines to a run, the first of which has number `from`, its header where it is new, and its outcome where it was
    /// ended: all or nothing.
    pub(crate) async fn append(
        &self,
        run: &str,
        (header, outcome): (Option<&str>, Option<&str>),
        from: usize,
        lines: &[String],
        sure: Sure,
    ) -> Result<(), JsValue> {
        let transaction = self.writing(&Array::of3(&RUNS.into(), &ACTS.into(), &OUTCOMES.into()), sure)?;
        for (store, json) in [(RUNS, header), (OUTCOMES, outcome)] {
            if let Some(json) = json {
                let record = record(&[("id", &run.into()), ("json", &json.into())])?;
                transaction.object_store(store)?.put(&record)?;
            }
        }
        let acts = transaction.object_store(ACTS)?;
        for (number, line) in (from..).zip(lines) {
            let number = u32::try_from(number).unwrap_or(u32::MAX);
            acts.put(&record(&[("run", &run.into()), ("n", &number.into()), ("json", &line.as_str().into())])?)?;
        }
        done(&transaction).await
    }

    /// Keeps an answer after those given before.
    pub(crate) async fn add_answer(&self, json: &str) -> Result<(), JsValue> {
        let transaction = self.writing(&Array::of1(&ANSWERS.into()), Sure::Relaxed)?;
        transaction.object_store(ANSWERS)?.add(&record(&[("json", &json.into())])?)?;
        done(&transaction).await
    }

    /// Every answer, in the order in which they were given.
    pub(crate) async fn answers(&self) -> Result<Vec<String>, JsValue> {
        let all = self.all(ANSWERS, None).await?;
        Ok(all.iter().filter_map(|record| text(&record, "json")).collect())
    }

    /// The outcome of every run that was ended here, in no order.
    pub(crate) async fn outcomes(&self) -> Result<Vec<String>, JsValue> {
        let all = self.all(OUTCOMES, None).await?;
        Ok(all.iter().filter_map(|record| text(&record, "json")).collect())
    }

    /// Keeps an assessment as it stands.
    pub(crate) async fn put_sitting(&self, id: &str, json: &str) -> Result<(), JsValue> {
        let transaction = self.writing(&Array::of1(&SITTINGS.into()), Sure::Strict)?;
        transaction.object_store(SITTINGS)?.put(&record(&[("id", &id.into()), ("json", &json.into())])?)?;
        done(&transaction).await
    }

    /// Every assessment, oldest first.
    pub(crate) async fn sittings(&self) -> Result<Vec<String>, JsValue> {
        let all = self.all(SITTINGS, None).await?;
        Ok(all.iter().filter_map(|record| text(&record, "json")).collect())
    }

    /// Keeps a setting.
    pub(crate) async fn put_setting(&self, key: &str, value: &str) -> Result<(), JsValue> {
        let transaction = self.writing(&Array::of1(&SETTINGS.into()), Sure::Relaxed)?;
        let record = record(&[("key", &key.into()), ("json", &value.into())])?;
        transaction.object_store(SETTINGS)?.put(&record)?;
        done(&transaction).await
    }

    /// Every run kept, oldest first.
    pub(crate) async fn runs(&self) -> Result<Vec<Kept>, JsValue> {
        let all = self.all(RUNS, None).await?;
        Ok(all
            .iter()
            .filter_map(|record| Some(Kept { id: text(&record, "id")?, header: text(&record, "json")? }))
            .collect())
    }

    /// One run.
    pub(crate) async fn run(&self, id: &str) -> Result<Option<Kept>, JsValue> {
        Ok(self.one(RUNS, id).await?.map(|header| Kept { id: id.to_owned(), header }))
    }

    /// The lines of a run, in order.
    pub(crate) async fn lines(&self, run: &str) -> Result<Vec<String>, JsValue> {
        let from = Array::of2(&run.into(), &0.into());
        let to = Array::of2(&run.into(), &f64::INFINITY.into());
        let range = IdbKeyRange::bound(&from, &to)?;
        let all = self.all(ACTS, Some(&range)).await?;
        Ok(all.iter().filter_map(|record| text(&record, "json")).collect())
    }

    /// A setting.
    pub(crate) async fn setting(&self, key: &str) -> Result<Option<String>, JsValue> {
        self.one(SETTINGS, key).await
    }

    /// Forgets a run.
    pub(crate) async fn forget(&self, run: &str) -> Result<(), JsValue> {
        let names = Array::of4(&RUNS.into(), &ACTS.into(), &OUTCOMES.into(), &SETTINGS.into());
        let transaction =
            self.database.transaction_with_str_sequence_and_mode(&names, IdbTransactionMode::Readwrite)?;
        let range =
            IdbKeyRange::bound(&Array::of2(&run.into(), &0.into()), &Array::of2(&run.into(), &f64::INFINITY.into()))?;
        transaction.object_store(RUNS)?.delete(&run.into())?;
        transaction.object_store(OUTCOMES)?.delete(&run.into())?;
        transaction.object_store(ACTS)?.delete(&range)?;
        for key in [reached_key(run), beat_key(run)] {
            transaction.object_store(SETTINGS)?.delete(&key.into())?;
        }
        done(&transaction).await
    }

    /// A transaction for writing. The bindings know no durability yet, so it is called by name.
    fn writing(&self, stores: &Array, sure: Sure) -> Result<IdbTransaction, JsValue> {
        let durability = match sure {
            Sure::Relaxed => "relaxed",
            Sure::Strict => "strict",
        };
        let options = record(&[("durability", &durability.into())])?;
        let transaction: Function = Reflect::get(&self.database, &"transaction".into())?.dyn_into()?;
        Ok(transaction.call3(&self.database, stores, &"readwrite".into(), &options)?.unchecked_into())
    }

    async fn one(&self, store: &str, key: &str) -> Result<Option<String>, JsValue> {
        let request = self.database.transaction_with_str(store)?.object_store(store)?.get(&key.into())?;
        Ok(text(&outcome(&request).await?, "json"))
    }

    async fn all(&self, store: &str, range: Option<&JsValue>) -> Result<Array, JsValue> {
        let store = self.database.transaction_with_str(store)?.object_store(store)?;
        let request = match range {
            Some(range) => store.get_all_with_key(range)?,
            None => store.get_all()?,
        };
        Ok(outcome(&request).await?.unchecked_into())
    }
}

/// The setting that holds the last moment of a run known to have been reached.
pub(crate) fn reached_key(run: &str) -> String {
    format!("reached/{run}")
}

/// The setting that holds when a run of an assessment was last known to go on, by the wall clock.
pub(crate) fn beat_key(run: &str) -> String {
    format!("beat/{run}")
}

fn make_stores(database: &IdbDatabase) -> Result<(), JsValue> {
    let there = database.object_store_names();
    let make = |store: &str, key: &JsValue| -> Result<(), JsValue> {
        if there.contains(store) {
            return Ok(());
        }
        let parameters = IdbObjectStoreParameters::new();
        parameters.set_key_path(key);
        parameters.set_auto_increment(store == ANSWERS);
        database.create_object_store_with_optional_parameters(store, &parameters).map(drop)
    };
    make(RUNS, &"id".into())?;
    make(ACTS, &Array::of2(&"run".into(), &"n".into()))?;
    make(OUTCOMES, &"id".into())?;
    make(ANSWERS, &"n".into())?;
    make(SITTINGS, &"id".into())?;
    make(SETTINGS, &"key".into())
}

fn record(fields: &[(&str, &JsValue)]) -> Result<JsValue, JsValue> {
    let record = Object::new();
    for (name, value) in fields {
        Reflect::set(&record, &(*name).into(), value)?;
    }
    Ok(record.into())
}

fn text(record: &JsValue, field: &str) -> Option<String> {
    Reflect::get(record, &field.into()).ok()?.as_string()
}

/// Waits for a request.
async fn outcome(request: &IdbRequest) -> Result<JsValue, JsValue> {
    let promise = Promise::new(&mut |resolve, reject| {
        request.set_onsuccess(Some(&resolve));
        request.set_onerror(Some(&reject));
    });
    JsFuture::from(promise).await?;
    request.result()
}

/// Waits until a transaction is complete.
async fn done(transaction: &IdbTransaction) -> Result<(), JsValue> {
    let promise = Promise::new(&mut |resolve, reject| {
        transaction.set_oncomplete(Some(&resolve));
        transaction.set_onerror(Some(&reject));
        transaction.set_onabort(Some(&reject));
    });
    JsFuture::from(promise).await?;
    Ok(())
}
