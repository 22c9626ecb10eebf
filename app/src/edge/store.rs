//! The store on this device: IndexedDB, one record an act, a database for each learner.
//!
//! Whatever goes wrong here, the page goes on in memory; the caller is told and offers the log as a file. What there is to
//! keep stands in one table, [`STORES`].

use super::{address, tab};
pub(crate) use bittersweet_core::wire::backup_v1::{beat_key, reached_key};
use bittersweet_core::{
    units::Ms,
    wire::{
        Code, Faults,
        backup_v1::{KeptV1, LearnerV1},
        learners_v1::{Learner, LearnersV1},
    },
};
use js_sys::{Array, Function, Object, Promise, Reflect};
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    IdbDatabase, IdbFactory, IdbKeyRange, IdbObjectStoreParameters, IdbRequest, IdbTransaction, IdbTransactionMode,
};

/// Counts up when an object store is added; what is there stays.
const VERSION: u32 = 3;
const RUNS: &str = "runs";
const ACTS: &str = "acts";
const OUTCOMES: &str = "outcomes";
const ANSWERS: &str = "answers";
const SITTINGS: &str = "sittings";
const SETTINGS: &str = "settings";

/// The object stores, with the fields that make the key of each: a header for each run, a line for each act, an outcome for
/// each run that was ended here, answers in the order in which they were given (the number counts up by itself), an
/// assessment each, and settings. What is added here belongs into [`Store::export`] and [`Store::fill`] too.
const STORES: [(&str, &[&str]); 6] = [
    (RUNS, &["id"]),
    (ACTS, &["run", "n"]),
    (OUTCOMES, &["id"]),
    (ANSWERS, &["n"]),
    (SITTINGS, &["id"]),
    (SETTINGS, &["key"]),
];

/// The setting of the first learner that says who else practises here.
const LEARNERS: &str = "learners";

/// Keys of settings that say in which window a run is open.
const LEASE: &str = "lease/";

/// How sure a write has to be before it counts.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sure {
    /// Handed to the system: survives the browser being killed.
    Relaxed,
    /// Written out: for the end of a phase or a run.
    Strict,
}

/// Why something was not kept.
pub(crate) enum Unkept {
    /// The run is open in another window, which has taken it.
    Elsewhere,
    /// The store is full, forbidden or broken.
    Failed,
}

impl From<JsValue> for Unkept {
    fn from(_: JsValue) -> Self {
        Self::Failed
    }
}

/// What is new of a run.
#[derive(Default)]
pub(crate) struct New {
    /// Its header, where all of it is new.
    pub(crate) header: Option<String>,
    /// The number of the first new line.
    pub(crate) from: usize,
    /// The new lines.
    pub(crate) lines: Vec<String>,
    /// Its outcome, where it was ended.
    pub(crate) outcome: Option<String>,
    /// The time reached.
    pub(crate) reached: Option<Ms>,
    /// When somebody was last there, in milliseconds since 1970, where that counts.
    pub(crate) beat: Option<u64>,
}

/// The open store of one learner.
#[derive(Clone)]
pub(crate) struct Store(Rc<Open>);

struct Open {
    learner: Learner,
    database: IdbDatabase,
    _yielding: Closure<dyn Fn()>,
}

impl Drop for Open {
    fn drop(&mut self) {
        self.database.close();
    }
}

/// A run as it is kept.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Kept {
    /// Its id.
    pub(crate) id: String,
    /// The header of its ledger.
    pub(crate) header: String,
}

/// The database of a learner in this page's folder. A space stands in no folder, so that no two names are alike.
fn name(learner: &str) -> String {
    let first = format!("bittersweet:{}", address::folder());
    if learner.is_empty() { first } else { format!("{first} {learner}") }
}

fn factory() -> Result<IdbFactory, JsValue> {
    web_sys::window().ok_or(JsValue::NULL)?.indexed_db()?.ok_or(JsValue::NULL)
}

impl Store {
    /// Opens a learner's store, made anew if there was none.
    async fn open(learner: Learner) -> Result<Self, JsValue> {
        let request = factory()?.open_with_u32(&name(&learner.id), VERSION)?;
        let opening = request.clone();
        // It lives as long as it is waited for: where nothing has to be made it is never called, and would else stay for ever.
        let upgrade = Closure::once(move || {
            if let Ok(database) = opening.result() {
                // A failure here fails the opening itself, which is reported below.
                let _ = make_stores(&database.unchecked_into());
            }
        });
        request.set_onupgradeneeded(Some(upgrade.as_ref().unchecked_ref()));
        let database: IdbDatabase = outcome(&request).await?.unchecked_into();
        // Another page that wants to change or remove the store is not held up by this one.
        let held = database.clone();
        let yielding = Closure::<dyn Fn()>::new(move || held.close());
        database.set_onversionchange(Some(yielding.as_ref().unchecked_ref()));
        Ok(Self(Rc::new(Open { learner, database, _yielding: yielding })))
    }

    /// The store of a learner; of the first one where there is none with that id.
    pub(crate) async fn of(id: &str) -> Result<Self, JsValue> {
        let mut first = Self::open(Learner::default()).await?;
        // A list that cannot be read hides the others, and is left as it is.
        let list = first.learners().await.unwrap_or_default();
        let learner = list.with_id(id).or(list.list().first()).cloned().unwrap_or_default();
        if !learner.id.is_empty() {
            return Self::open(learner).await;
        }
        if let Some(open) = Rc::get_mut(&mut first.0) {
            open.learner = learner;
        }
        Ok(first)
    }

    /// The store that has this id, whoever's it is or will be.
    pub(crate) async fn with(id: &str) -> Result<Self, JsValue> {
        Self::open(Learner { id: id.to_owned(), name: String::new() }).await
    }

    /// Who practises here; only the first learner's store says so.
    pub(crate) async fn learners(&self) -> Result<LearnersV1, JsValue> {
        match self.setting(LEARNERS).await? {
            Some(text) => LearnersV1::parse(&text).map_err(|_| JsValue::NULL),
            None => Ok(LearnersV1::default()),
        }
    }

    /// Whether both are the same opening of the same store.
    pub(crate) fn is(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.0, &other.0)
    }

    /// Whose it is.
    pub(crate) fn learner(&self) -> &Learner {
        &self.0.learner
    }

    /// Keeps who practises here; only the first learner's store does.
    pub(crate) async fn put_learners(&self, list: &LearnersV1) -> Result<(), JsValue> {
        self.put_setting(LEARNERS, &list.written()).await
    }

    /// Everything that is kept, for a backup.
    pub(crate) async fn export(&self) -> Result<LearnerV1, JsValue> {
        let rows = |all: &Array, key: &str| -> Vec<(String, String)> {
            all.iter().filter_map(|record| Some((text(&record, key)?, text(&record, "json")?))).collect()
        };
        let headers = rows(&self.all(RUNS, None).await?, "id");
        let mut lines = rows(&self.all(ACTS, None).await?, "run").into_iter().peekable();
        let mut runs = Vec::new();
        // Both are in the order of the runs' ids. Lines without a header are of a run that was forgotten.
        for (id, header) in headers {
            while lines.next_if(|(run, _)| *run < id).is_some() {}
            let lines = std::iter::from_fn(|| lines.next_if(|(run, _)| *run == id)).map(|(_, line)| line).collect();
            runs.push(KeptV1 { id, header, lines });
        }
        let mut settings = rows(&self.all(SETTINGS, None).await?, "key");
        settings.retain(|(key, _)| key != LEARNERS && !key.starts_with(LEASE));
        let name = self.learner().name.clone();
        let outcomes = rows(&self.all(OUTCOMES, None).await?, "id");
        let sittings = rows(&self.all(SITTINGS, None).await?, "id");
        Ok(LearnerV1 { name, runs, outcomes, answers: self.answers().await?, sittings, settings })
    }

    /// Puts this in place of everything that is kept, and the list of learners with it where this is the first one's store:
    /// all or nothing.
    pub(crate) async fn import(&self, kept: &LearnerV1, list: Option<&LearnersV1>) -> Result<(), JsValue> {
        let names: Array = STORES.iter().map(|(store, _)| JsValue::from(*store)).collect();
        let transaction = self.writing(&names, Sure::Strict)?;
        whole(&transaction, Self::fill(&transaction, kept, list)).await
    }

    fn fill(transaction: &IdbTransaction, kept: &LearnerV1, list: Option<&LearnersV1>) -> Result<(), JsValue> {
        for (store, _) in STORES {
            transaction.object_store(store)?.clear()?;
        }
        let put = |store: &str, fields: &[(&str, &JsValue)]| -> Result<(), JsValue> {
            transaction.object_store(store)?.put(&record(fields)?).map(drop)
        };
        for run in &kept.runs {
            let id: JsValue = run.id.as_str().into();
            put(RUNS, &[("id", &id), ("json", &run.header.as_str().into())])?;
            for (number, line) in (0_u32..).zip(&run.lines) {
                put(ACTS, &[("run", &id), ("n", &number.into()), ("json", &line.as_str().into())])?;
            }
        }
        for answer in &kept.answers {
            put(ANSWERS, &[("json", &answer.as_str().into())])?;
        }
        let list: Vec<_> = list.map(|list| (LEARNERS.to_owned(), list.written())).into_iter().collect();
        for (store, field, rows) in [
            (OUTCOMES, "id", &kept.outcomes),
            (SITTINGS, "id", &kept.sittings),
            (SETTINGS, "key", &kept.settings),
            (SETTINGS, "key", &list),
        ] {
            for (key, value) in rows {
                put(store, &[(field, &key.as_str().into()), ("json", &value.as_str().into())])?;
            }
        }
        Ok(())
    }

    /// The ids of all learners but the first who have a store here, listed or not.
    async fn others() -> Result<Vec<String>, JsValue> {
        let factory = factory()?;
        // The bindings do not know it yet, so it is called by name.
        let databases: Function = Reflect::get(&factory, &"databases".into())?.dyn_into()?;
        let all: Array = JsFuture::from(databases.call0(&factory)?.unchecked_into::<Promise>()).await?.unchecked_into();
        let own = format!("{} ", name(""));
        Ok(all.iter().filter_map(|one| Some(text(&one, "name")?.strip_prefix(&own)?.to_owned())).collect())
    }

    /// In place of a list that cannot be read, keeps one of everybody of whom there is a store, all called the same and numbered:
    /// their names are lost, and nothing else. A newer version's list is left alone.
    pub(crate) async fn mend_learners(&self, called: &str) -> Result<LearnersV1, JsValue> {
        let text = self.setting(LEARNERS).await?.unwrap_or_default();
        let is_newer = |faults: Faults| faults.list().iter().any(|fault| fault.code == Code::NewerVersion);
        if LearnersV1::parse(&text).is_err_and(is_newer) {
            return Err(JsValue::NULL);
        }
        let mut list = LearnersV1::default();
        for id in Self::others().await? {
            // What is called like nobody that there could be stays where it is.
            list = list.with(&id, &list.free_name(called)).unwrap_or(list);
        }
        self.put_learners(&list).await?;
        Ok(list)
    }

    /// Removes the store of a learner who is not the first.
    pub(crate) async fn remove(learner: &str) -> Result<(), JsValue> {
        outcome(factory()?.delete_database(&name(learner))?.as_ref()).await.map(drop)
    }

    /// Appends what is new of a run: all or nothing, and nothing where another window has taken the run.
    pub(crate) async fn append(&self, run: &str, new: &New, sure: Sure) -> Result<(), Unkept> {
        let stores = [RUNS, ACTS, OUTCOMES, SETTINGS].map(JsValue::from);
        let transaction = self.writing(&stores.iter().collect(), sure)?;
        if !hold(&transaction, run, false).await? {
            return Err(Unkept::Elsewhere);
        }
        let put = || {
            for (store, json) in [(RUNS, &new.header), (OUTCOMES, &new.outcome)] {
                if let Some(json) = json {
                    let record = record(&[("id", &run.into()), ("json", &json.as_str().into())])?;
                    transaction.object_store(store)?.put(&record)?;
                }
            }
            let acts = transaction.object_store(ACTS)?;
            for (number, line) in (new.from..).zip(&new.lines) {
                let number = u32::try_from(number).unwrap_or(u32::MAX);
                acts.put(&record(&[("run", &run.into()), ("n", &number.into()), ("json", &line.as_str().into())])?)?;
            }
            let settings = transaction.object_store(SETTINGS)?;
            let reached = new.reached.map(|time| (reached_key(run), time.0.to_string()));
            let beat = new.beat.map(|time| (beat_key(run), time.to_string()));
            for (key, value) in reached.into_iter().chain(beat) {
                settings.put(&record(&[("key", &key.into()), ("json", &value.into())])?)?;
            }
            Ok(())
        };
        Ok(whole(&transaction, put()).await?)
    }

    /// Says that a run is open in this window, unless it is open in another; says it all the same when it is to be taken.
    /// Returns whether it is this window's now.
    pub(crate) async fn hold(&self, run: &str, take: bool) -> Result<bool, JsValue> {
        let transaction = self.writing(&Array::of1(&SETTINGS.into()), Sure::Relaxed)?;
        let own = hold(&transaction, run, take).await?;
        done(&transaction).await?;
        Ok(own)
    }

    /// Says which window a run is open in, and when that was last said.
    pub(crate) async fn lease(&self, run: &str) -> Result<Option<String>, JsValue> {
        self.setting(&lease_key(run)).await
    }

    /// Says that a run is open in this window no more.
    pub(crate) async fn release(&self, run: &str) -> Result<(), JsValue> {
        let transaction = self.writing(&Array::of1(&SETTINGS.into()), Sure::Relaxed)?;
        if hold(&transaction, run, false).await? {
            transaction.object_store(SETTINGS)?.delete(&lease_key(run).into())?;
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

    /// The runs that were begun last, latest first, `most` of them; and how many there are in all. Ids begin with the time, so
    /// that the last keys are the latest; the others are not even read.
    pub(crate) async fn latest_runs(&self, most: usize) -> Result<(Vec<Kept>, usize), JsValue> {
        let keys = self.0.database.transaction_with_str(RUNS)?.object_store(RUNS)?.get_all_keys()?;
        let keys: Array = outcome(&keys).await?.unchecked_into();
        let ids: Vec<String> = keys.iter().filter_map(|key| key.as_string()).collect();
        let mut latest = Vec::new();
        for id in ids.iter().rev().take(most) {
            latest.extend(self.run(id).await?);
        }
        Ok((latest, ids.len()))
    }

    /// One run.
    pub(crate) async fn run(&self, id: &str) -> Result<Option<Kept>, JsValue> {
        Ok(self.one(RUNS, id).await?.map(|header| Kept { id: id.to_owned(), header }))
    }

    /// The lines of a run, in order.
    pub(crate) async fn lines(&self, run: &str) -> Result<Vec<String>, JsValue> {
        let all = self.all(ACTS, Some(lines_of(run)?.as_ref())).await?;
        Ok(all.iter().filter_map(|record| text(&record, "json")).collect())
    }

    /// A setting.
    pub(crate) async fn setting(&self, key: &str) -> Result<Option<String>, JsValue> {
        self.one(SETTINGS, key).await
    }

    /// Forgets a run, which no other window has open: that would write on without a beginning.
    pub(crate) async fn forget(&self, run: &str) -> Result<(), JsValue> {
        let names = Array::of4(&RUNS.into(), &ACTS.into(), &OUTCOMES.into(), &SETTINGS.into());
        let transaction =
            self.0.database.transaction_with_str_sequence_and_mode(&names, IdbTransactionMode::Readwrite)?;
        transaction.object_store(RUNS)?.delete(&run.into())?;
        transaction.object_store(OUTCOMES)?.delete(&run.into())?;
        transaction.object_store(ACTS)?.delete(lines_of(run)?.as_ref())?;
        for key in [reached_key(run), beat_key(run), lease_key(run)] {
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
        let database = &self.0.database;
        let transaction: Function = Reflect::get(database, &"transaction".into())?.dyn_into()?;
        Ok(transaction.call3(database, stores, &"readwrite".into(), &options)?.unchecked_into())
    }

    async fn one(&self, store: &str, key: &str) -> Result<Option<String>, JsValue> {
        let request = self.0.database.transaction_with_str(store)?.object_store(store)?.get(&key.into())?;
        Ok(text(&outcome(&request).await?, "json"))
    }

    async fn all(&self, store: &str, range: Option<&JsValue>) -> Result<Array, JsValue> {
        let store = self.0.database.transaction_with_str(store)?.object_store(store)?;
        let request = match range {
            Some(range) => store.get_all_with_key(range)?,
            None => store.get_all()?,
        };
        Ok(outcome(&request).await?.unchecked_into())
    }
}

fn lease_key(run: &str) -> String {
    format!("{LEASE}{run}")
}

/// Says within a transaction that a run is open in this window, unless it is open in another and not to be taken.
async fn hold(transaction: &IdbTransaction, run: &str, take: bool) -> Result<bool, JsValue> {
    let (settings, key, own) = (transaction.object_store(SETTINGS)?, lease_key(run), tab::id());
    let lease = text(&outcome(&settings.get(&key.as_str().into())?).await?, "json");
    let owner = lease.as_deref().and_then(|lease| lease.split(' ').next());
    if !take && owner.is_some_and(|owner| owner != own) {
        return Ok(false);
    }
    let lease = format!("{own} {}", super::clock::now_ms());
    settings.put(&record(&[("key", &key.into()), ("json", &lease.into())])?)?;
    Ok(true)
}

fn lines_of(run: &str) -> Result<IdbKeyRange, JsValue> {
    IdbKeyRange::bound(&Array::of2(&run.into(), &0.into()), &Array::of2(&run.into(), &f64::INFINITY.into()))
}

fn make_stores(database: &IdbDatabase) -> Result<(), JsValue> {
    let there = database.object_store_names();
    for (store, key) in STORES.iter().filter(|(store, _)| !there.contains(store)) {
        let parameters = IdbObjectStoreParameters::new();
        match key {
            [one] => parameters.set_key_path(&(*one).into()),
            several => parameters.set_key_path(&several.iter().map(|field| JsValue::from(*field)).collect::<Array>()),
        }
        parameters.set_auto_increment(*key == ["n"]);
        database.create_object_store_with_optional_parameters(store, &parameters)?;
    }
    Ok(())
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

/// Waits until a transaction is complete, or undoes it where not all of it could be asked for.
async fn whole(transaction: &IdbTransaction, asked: Result<(), JsValue>) -> Result<(), JsValue> {
    if asked.is_err() {
        transaction.abort()?;
        return asked;
    }
    done(transaction).await
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
