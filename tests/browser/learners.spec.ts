// Several learners on one device, backup and restoring, erasing; and two windows with one run.
import { readFileSync } from "node:fs";
import { type Page } from "@playwright/test";
import { clean } from "./axe";
import { begin, expect, golden, open, start, test } from "./conductor";
import { settled } from "./store";

const heading = (page: Page) => page.locator("#heading");
const said = (page: Page) => page.locator(".learners [role=status]");
const row = (page: Page, name: string) => page.locator(".learners ul.kept > li", { has: page.locator("strong", { hasText: new RegExp(`^${name}$`) }) });
const press = (page: Page, name: string, act: string) => row(page, name).getByRole("button", { name: act }).click();

async function learners(page: Page) {
  await page.goto("#/learners");
  await expect(page.locator("#save-all")).toBeVisible();
}

async function add(page: Page, name: string) {
  await page.fill("#new-name", name);
  await page.keyboard.press("Enter");
}

/** Begins a run and does one act in it, which is kept before this returns. */
async function practise(page: Page, id: string) {
  await begin(page, id);
  await page.click("#act-ask-clearance-");
  await expect(page.locator(".logbook li.did")).toHaveCount(1);
  await page.click(".mark");
}

const runs = (page: Page) => page.locator(".home .kept li");

/** Everything in the databases of this page but the windows' leases, by the name of the database. */
const everything = (page: Page) =>
  page.evaluate(async () => {
    const all: Record<string, Record<string, unknown[]>> = {};
    for (const { name } of await indexedDB.databases()) {
      const database = await new Promise<IDBDatabase>((done, failed) => {
        const request = indexedDB.open(name!);
        request.onsuccess = () => done(request.result);
        request.onerror = () => failed(request.error);
      });
      all[name!] = {};
      for (const store of database.objectStoreNames) {
        const records = await new Promise<any[]>((done) => {
          const request = database.transaction(store).objectStore(store).getAll();
          request.onsuccess = () => done(request.result);
        });
        all[name!][store] = records.filter((one) => !String(one.key).startsWith("lease/"));
      }
      database.close();
    }
    return all;
  });

async function download(page: Page, press: () => Promise<void>) {
  const [file] = await Promise.all([page.waitForEvent("download"), press()]);
  await expect(said(page)).toContainText(file.suggestedFilename());
  return readFileSync(await file.path(), "utf8");
}

const choose = (page: Page, text: string) =>
  page.setInputFiles("#open-backup", { name: "backup.json", mimeType: "application/json", buffer: Buffer.from(text) });

test("what each does is kept apart, and the one who was here first loses nothing", async ({ page }) => {
  await practise(page, "bakery");
  await expect(runs(page)).toHaveCount(1);
  await learners(page);
  await expect(row(page, "Without a name")).toContainText("Runs: 1. Answers: 0.");
  await add(page, " Ben ");
  await expect(said(page)).toHaveText("Added: Ben.");
  await expect(page.locator("#new-name")).toHaveValue("");
  await press(page, "Ben", "Choose");
  await expect(said(page)).toHaveText("Practices now: Ben.");
  await expect(page.locator(".who")).toHaveText("Practicing: Ben");
  await expect(row(page, "Ben").getByRole("button", { name: "In use now" })).toHaveAttribute("aria-pressed", "true");
  await page.click(".mark");
  await expect(page.locator("#begin-bakery")).toBeVisible();
  await expect(runs(page)).toHaveCount(0);
  await practise(page, "sawmill");
  await expect(runs(page)).toHaveCount(1);
  // It stays so when the page is loaded again, and in a new window.
  await page.reload();
  await expect(page.locator(".who")).toHaveText("Practicing: Ben");
  await expect(runs(page)).toContainText("sawmill", { ignoreCase: true });
  await learners(page);
  await press(page, "Without a name", "Rename");
  await page.fill("#other-name", "Ana");
  await page.keyboard.press("Enter");
  await expect(said(page)).toHaveText("The name is now: Ana.");
  await press(page, "Ana", "Choose");
  await expect(page.locator(".who")).toHaveText("Practicing: Ana");
  await page.click(".mark");
  await expect(runs(page)).toHaveCount(1);
  await expect(runs(page)).toContainText("bakery", { ignoreCase: true });
});

test("names that cannot be are refused, and it is said why", async ({ page }) => {
  await learners(page);
  for (const [name, why] of [["", "Type a name first."], ["Ben", "Added: Ben."], ["Ben ", "Somebody here has this name already."], ["B\u202een", "cannot be seen"]]) {
    await add(page, name);
    await expect(said(page)).toContainText(why);
  }
  await expect(page.locator(".learners ul.kept > li")).toHaveCount(2);
  // A name is shown as text.
  await add(page, "<b>Kim</b>");
  await expect(row(page, "<b>Kim</b>")).toHaveCount(1);
});

test("one is erased and the others stay; then all", async ({ page }) => {
  await practise(page, "bakery");
  await learners(page);
  await add(page, "Ben");
  await press(page, "Ben", "Choose");
  await expect(said(page)).toHaveText("Practices now: Ben.");
  await practise(page, "sawmill");
  await learners(page);
  // Asked first, and left by its key: the focus goes back to the button.
  const erase = row(page, "Ben").getByRole("button", { name: "Erase" });
  await erase.click();
  await expect(page.getByRole("dialog")).toHaveAccessibleName("Erase everything kept under “Ben”?");
  await page.keyboard.press("Escape");
  await expect(page.getByRole("dialog")).toHaveCount(0);
  await expect(erase).toBeFocused();
  await erase.click();
  await page.getByRole("button", { name: "Leave it as it is" }).click();
  await expect(said(page)).toHaveText("Nothing was changed.");
  await erase.click();
  await page.click("#sure");
  await expect(said(page)).toHaveText("Everything that was kept is erased: Ben.");
  await expect(page.locator(".who")).toHaveText("On this device");
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("heading");
  expect(Object.keys(await everything(page))).toEqual(["bittersweet:/"]);
  await expect(row(page, "Without a name")).toContainText("Runs: 1.");
  await add(page, "Kim");
  await page.click("#erase-all");
  await page.click("#sure");
  await expect(said(page)).toHaveText("Everything on this device was erased.");
  expect(await everything(page)).toEqual({
    "bittersweet:/": expect.objectContaining({ runs: [], acts: [], answers: [] }),
  });
  await page.click(".mark");
  await expect(runs(page)).toHaveCount(0);
});

test("a backup comes back as it was, after everything was erased and on another device", async ({ page, browser, baseURL }) => {
  await start(page);
  await open(page, golden("paint-line"));
  await expect(page.locator(".review")).toBeVisible();
  await page.goto("#/questions");
  await page.click("#start, .practice [type=submit], .practice .main");
  await expect(page.locator(".question .ask")).toBeVisible();
  await learners(page);
  await add(page, "Ben");
  await press(page, "Ben", "Choose");
  await expect(said(page)).toHaveText("Practices now: Ben.");
  await practise(page, "sawmill");
  await page.click("#watch-joinery");
  await page.click("#step");
  await page.click("#wrong");
  await page.selectOption("#slip", { index: 1 });
  await page.click(".naming [type=submit]");
  await learners(page);
  const before = await everything(page);
  const backup = await download(page, () => page.click("#save-all"));
  await page.click("#erase-all");
  await page.click("#sure");
  await expect(said(page)).toHaveText("Everything on this device was erased.");
  await choose(page, backup);
  await expect(page.locator("#in-it")).toBeFocused();
  await expect(page.locator(".preview li").first()).toContainText("Runs: 1.");
  await expect(page.locator(".preview li").last()).toContainText("Would be new here: Ben.");
  await page.click("#merge");
  await expect(said(page)).toHaveText("The backup is on this device now.");
  const contents = (all: Awaited<ReturnType<typeof everything>>) =>
    Object.entries(all).map(([name, stores]) => [name.split(" ").length, { ...stores, settings: stores.settings.filter((one: any) => one.key !== "learners") }]);
  expect(contents(await everything(page))).toEqual(contents(before));
  // Once more changes nothing, and a backup of what is here now has the same in it.
  await choose(page, backup);
  await expect(page.locator(".preview li").last()).toContainText("Would join what is kept here: Ben.");
  await page.click("#merge");
  await expect(said(page)).toHaveText("The backup is on this device now.");
  expect(contents(await everything(page))).toEqual(contents(before));
  const again = await download(page, () => page.click("#save-all"));
  expect(JSON.parse(again).learners).toEqual(JSON.parse(backup).learners);
  // On another device it takes the place of what is there.
  const other = await (await browser.newContext({ baseURL, serviceWorkers: "block" })).newPage();
  await practise(other, "bakery");
  await learners(other);
  await add(other, "Kim");
  await choose(other, backup);
  await other.click("#replace");
  await expect(other.getByRole("dialog")).toHaveAccessibleName(/in place of everything/);
  await other.click("#sure");
  await expect(said(other)).toHaveText("The backup is on this device now.");
  expect(contents(await everything(other))).toEqual(contents(before));
  await expect(row(other, "Kim")).toHaveCount(0);
  await other.context().close();
});

test("a damaged backup changes nothing, and it is said where it is damaged", async ({ page }) => {
  await practise(page, "bakery");
  await learners(page);
  const backup = await download(page, () => press(page, "Without a name", "Back up"));
  const before = await everything(page);
  const rows: [string, string][] = [
    [backup.replace("ask-clearance", "ask-clearanse"), "learners[0].runs[0].sum"],
    [backup.replace('"version":1', '"version":2'), "version"],
    [backup.slice(0, -20), "line 1, column"],
    [golden("bakery"), "format"],
    ["", "line 1"],
  ];
  for (const [text, where] of rows) {
    await choose(page, text);
    await expect(page.locator(".faults code").first()).toContainText(where);
    await expect(page.locator(".preview")).toHaveCount(0);
  }
  expect(await everything(page)).toEqual(before);
  // Whole, it is opened, and what was said of the others goes.
  await choose(page, backup);
  await expect(page.locator(".preview")).toBeVisible();
  await expect(page.locator(".faults")).toHaveCount(0);
});

test("a restoring that fails in the middle leaves everything as it was", async ({ page }) => {
  await practise(page, "bakery");
  await learners(page);
  const backup = await download(page, () => page.click("#save-all"));
  await practise(page, "sawmill");
  await learners(page);
  const before = await everything(page);
  await page.evaluate(() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...all) {
      if (this.name === "acts") throw new DOMException("no", "QuotaExceededError");
      return put.apply(this, all as any);
    };
  });
  await choose(page, backup);
  await page.click("#replace");
  await page.click("#sure");
  await expect(said(page)).toContainText("That did not succeed");
  expect(await everything(page)).toEqual(before);
});

/** Puts something in place of the list of names. */
const list = (page: Page, text: string) =>
  page.evaluate(async (json) => {
    const database = await new Promise<IDBDatabase>((done) => {
      const request = indexedDB.open("bittersweet:/");
      request.onsuccess = () => done(request.result);
    });
    await new Promise((done) => {
      const writing = database.transaction("settings", "readwrite");
      writing.objectStore("settings").put({ key: "learners", json });
      writing.oncomplete = done;
    });
    database.close();
  }, text);

test("where the list of names is damaged everybody is found again, with all that they did", async ({ page }) => {
  await learners(page);
  await add(page, "Ben");
  await press(page, "Ben", "Choose");
  await expect(said(page)).toContainText("Ben");
  await practise(page, "bakery");
  await list(page, '{"version":1,"lear');
  await learners(page);
  await expect(said(page)).toContainText("could not be read");
  await expect(row(page, "Found again")).toContainText("Runs: 1.");
  await press(page, "Found again", "Choose");
  await page.click(".mark");
  await expect(runs(page)).toHaveCount(1);
});

test("a list of names that a newer version wrote is left alone", async ({ page }) => {
  await learners(page);
  const newer = '{"version":2,"people":[]}';
  await list(page, newer);
  await page.reload();
  await expect(said(page)).toContainText("did not succeed");
  const settings = (await everything(page))["bittersweet:/"].settings as { key: string; json: string }[];
  expect(settings.find(({ key }) => key === "learners")?.json).toBe(newer);
});

test("the browser is asked not to clear a run, and it is said whether it promised", async ({ page }) => {
  await page.addInitScript(() => {
    Object.assign(navigator.storage, {
      persist: async () => (sessionStorage.promised = "yes") === "yes",
      persisted: async () => sessionStorage.promised === "yes",
    });
  });
  await learners(page);
  await expect(page.locator('[aria-labelledby="backup-title"]')).toContainText("A browser may clear what it keeps");
  await practise(page, "bakery");
  await expect.poll(() => page.evaluate(() => sessionStorage.promised)).toBe("yes");
  await learners(page);
  await expect(page.locator('[aria-labelledby="backup-title"]')).toContainText("has promised not to clear");
});

test("where nothing can be kept, it says so", async ({ page }) => {
  await page.addInitScript(() => Object.defineProperty(window, "indexedDB", { value: undefined }));
  await page.goto("#/learners");
  await expect(page.locator(".learners .notice")).toContainText("Nothing can be kept on this device just now");
});

test("a run that is open in another window is not opened twice, unless it is taken over", async ({ page, context }) => {
  await begin(page, "bakery");
  await page.click("#act-ask-clearance-");
  await expect(page.locator(".logbook li.did")).toHaveCount(1);
  await settled(page);
  const other = await context.newPage();
  await other.goto(page.url());
  await expect(heading(other)).toHaveText("This run is open in another window");
  await expect(heading(other)).toBeFocused();
  await clean(other, "open elsewhere");
  await other.click("#take-over");
  await expect(other.locator(".logbook li.did")).toHaveCount(1);
  await expect(heading(other)).toBeFocused();
  // The first window stops by itself.
  await expect(heading(page)).toHaveText("This run is open in another window");
  await other.click('.phases button:has-text("Briefing")');
  await other.click("#act-agree-signals-");
  await expect(other.locator(".logbook li.did")).toHaveCount(2);
  await settled(other);
  // Taken back, it goes on from what was done there.
  await page.click("#take-over");
  await expect(page.locator(".logbook li.did")).toHaveCount(2);
  await expect(heading(other)).toHaveText("This run is open in another window");
  // Where the other window is closed, nobody asks.
  await page.close();
  await other.reload();
  await expect(other.locator(".logbook li.did")).toHaveCount(2);
});

test("an act made in the very moment in which another window takes the run spoils nothing", async ({ page, context }) => {
  await begin(page, "bakery");
  await page.click("#act-ask-clearance-");
  const run = page.url().split("/").pop()!;
  await expect.poll(async () => (await everything(page))["bittersweet:/"].acts.length).toBeGreaterThan(0);
  const before = (await everything(page))["bittersweet:/"].acts;
  // Another window's word, as if it had just taken the run.
  await page.evaluate(async (run) => {
    const database = await new Promise<IDBDatabase>((done) => {
      const request = indexedDB.open("bittersweet:/");
      request.onsuccess = () => done(request.result);
    });
    await new Promise((done) => {
      const writing = database.transaction("settings", "readwrite");
      writing.objectStore("settings").put({ key: `lease/${run}`, json: "another 1" });
      writing.oncomplete = done;
      (document.querySelector('.acts button:not([aria-disabled="true"])') as HTMLElement).click();
    });
    database.close();
  }, run);
  await expect(page.locator("#squeeze")).toHaveCount(0);
  expect((await everything(page))["bittersweet:/"].acts).toEqual(before);
  void context;
});

test("a run that is open in another window is not forgotten", async ({ page, context }) => {
  await begin(page, "bakery");
  await page.click("#act-ask-clearance-");
  await expect(page.locator(".logbook li.did")).toHaveCount(1);
  const other = await context.newPage();
  await start(other);
  await expect(runs(other)).toHaveCount(1);
  const forget = runs(other).getByRole("button");
  await forget.click();
  await expect(forget).toHaveText("Erase for good");
  await forget.click();
  await expect(other.locator(".home [role=status]")).toContainText("open in another window");
  await expect(runs(other)).toHaveCount(1);
  // There it goes on as before, and once it is left it can be forgotten.
  await page.click('.phases button:has-text("Briefing")');
  await page.click("#act-agree-signals-");
  await expect(page.locator(".logbook li.did")).toHaveCount(2);
  await page.click(".mark");
  await expect(runs(page)).toHaveCount(1);
  await forget.click();
  await forget.click();
  await expect(runs(other)).toHaveCount(0);
  const { runs: headers, acts } = (await everything(other))["bittersweet:/"];
  expect([headers, acts]).toEqual([[], []]);
});

test("a watched run, too, is open in one window only", async ({ page, context }) => {
  await start(page);
  await page.click("#watch-joinery");
  await page.click("#step");
  await page.click("#wrong");
  await page.selectOption("#slip", { index: 1 });
  await page.click(".naming [type=submit]");
  const other = await context.newPage();
  await other.goto(page.url());
  await expect(heading(other)).toHaveText("This run is open in another window");
  await other.click("#take-over");
  await expect(other.locator("#step")).toBeVisible();
  await expect(heading(page)).toHaveText("This run is open in another window");
});

for (const [locale, width] of [["en-GB", 360], ["es-MX", 320], ["es-MX", 1280]] as const) {
  test.describe(`in ${locale} at ${width} px`, () => {
    test.use({ locale, viewport: { width, height: 800 } });
    test("axe finds nothing, in the dialog neither", async ({ page }) => {
      await practise(page, "bakery");
      await learners(page);
      await add(page, "Maximiliana Hernández-Villaseñor de la Torre y Santa Cruz");
      await expect(page.locator(".learners ul.kept > li")).toHaveCount(2);
      await clean(page, "learners");
      const backup = await download(page, () => page.click("#save-all"));
      await choose(page, backup);
      await expect(page.locator(".preview")).toBeVisible();
      await clean(page, "with a backup open");
      if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/learners ${locale} ${width}.png`, fullPage: true });
      await page.locator('[aria-labelledby="who-title"] li').last().getByRole("button").nth(1).click();
      await clean(page, "the dialog for a name");
      await page.keyboard.press("Escape");
      await page.click("#replace");
      await clean(page, "the dialog");
      if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/replace ${locale} ${width}.png` });
    });
  });
}
