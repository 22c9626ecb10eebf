// A worker before their own test: the whole way by keyboard and by mouse, in both languages, on a phone; whatever the story
// is, stopping always stops, and nothing is kept but the day.
import { type Page } from "@playwright/test";
import { clean } from "./axe";
import { expect, reach, start, test } from "./conductor";

/** What the story is drawn from: a leak while talking; a smell when bending, and an itch before; a mask that fits. */
const STORIES = { leak: 6 / 24, smell: 5 / 24, fits: 11 / 24 };

async function arrive(page: Page, language = "en", story: keyof typeof STORIES = "leak") {
  await page.addInitScript((drawn) => (Math.random = () => drawn), STORIES[story]);
  await page.goto(`./?lang=${language}#/wearer`);
  await expect(page.locator(".worker")).toHaveAttribute("data-step", "told.welcome");
}

const at = (page: Page, step: string | RegExp) => expect(page.locator(".worker")).toHaveAttribute("data-step", step);
const cue = (page: Page) => page.locator(".cue").textContent();

/** How a control is pressed. */
type Press = (page: Page, selector: string) => Promise<void>;
const byMouse: Press = (page, selector) => page.click(selector);
const byKey: Press = async (page, selector) => {
  await reach(page, selector);
  await page.keyboard.press("Enter");
};

/** Into the hood, without a clock. */
async function intoTheHood(page: Page, press: Press) {
  for (let step = 0; step < 4; step++) await press(page, "#go-on");
  await at(page, "told.hood");
  await page.selectOption("#pace", "steps");
  await press(page, "#go-on");
  await at(page, "screening");
}

const TASTED = { en: /faint|taste it clearly/, es: /leve|siente claramente/ };

/** Bare-faced, by the truth, and on into the mask. */
async function intoTheMask(page: Page, press: Press, language: "en" | "es" = "en") {
  for (let turn = 0; turn < 8 && !TASTED[language].test((await cue(page))!); turn++) {
    await press(page, (await page.locator("#say-nothing").count()) ? "#say-nothing" : "#let-pass");
  }
  await expect(page.locator(".cue")).toHaveText(TASTED[language]);
  await press(page, "#say-taste");
  await at(page, "told.rest");
  await press(page, "#go-on");
  await press(page, "#go-on");
  await at(page, "test");
}

for (const language of ["en", "es"] as const) {
  for (const [hand, press] of [["keyboard", byKey], ["mouse", byMouse]] as const) {
    test(`the whole way by ${hand}, in ${language}`, async ({ page }) => {
      test.setTimeout(120_000);
      await page.setViewportSize({ width: 360, height: 740 });
      await arrive(page, language);
      const looked = new Set<string>();
      // On every step axe finds nothing, and the focus is at its title.
      const look = async () => {
        const step = (await page.locator(".worker").getAttribute("data-step"))!;
        if (looked.has(step)) return;
        looked.add(step);
        if (step !== "told.welcome") await expect(page.locator("#step-title")).toBeFocused();
        await clean(page, `${step}, ${language}`);
      };
      await look();
      for (let step = 0; step < 4; step++) {
        await press(page, "#go-on");
        await look();
      }
      await page.selectOption("#pace", "steps");
      await press(page, "#go-on");
      await look();
      // Said before there is any: answered, and on with it.
      await press(page, "#say-taste");
      await expect(page.locator(".reply")).toBeVisible();
      await at(page, "screening");
      await intoTheMask(page, press, language);
      await look();
      let read = false;
      for (let turn = 0; turn < 16 && !TASTED[language].test((await cue(page))!); turn++) {
        await press(page, "#let-pass");
        read ||= (await page.locator(".passage").count()) > 0;
      }
      expect(read).toBe(true);
      await press(page, "#say-taste");
      await at(page, "after.at-once");
      await look();
      await press(page, "#go-on");
      await expect(page.locator("#give")).toBeVisible();
      await look();
      for (let question = 0; question < 5; question++) {
        if (hand === "keyboard") await page.keyboard.press(String((question % 4) + 1));
        else await page.click(`label:has(#option-${question % 4})`);
        await expect(page.locator(`#option-${question % 4}`)).toBeChecked();
        await press(page, "#give");
        await expect(page.locator("#verdict")).toBeVisible();
        if (question === 0) await clean(page, `an answered question, ${language}`);
        await expect(page.locator("#next-question")).toBeFocused();
        await press(page, "#next-question");
        await expect(page.locator("#verdict")).toHaveCount(0);
      }
      await at(page, "card");
      await look();
      await expect(page.locator(".worker-card li")).toHaveCount(9);
      await expect(page.locator(".worker-card")).toContainText("15");
      expect(looked.size).toBe(10);
    });
  }
}

/** Answers every question with what stands first. */
async function answer(page: Page) {
  for (let question = 0; question < 5; question++) {
    await page.click("label:has(#option-0)");
    await page.click("#give");
    await page.click("#next-question");
  }
  await at(page, "card");
}

/** What is kept on this device. */
const kept = (page: Page) =>
  page.evaluate(async () => {
    const [{ name }] = await indexedDB.databases();
    const database: IDBDatabase = await new Promise((done) => (indexedDB.open(name!).onsuccess = (event: any) => done(event.target.result)));
    const all: Record<string, any[]> = {};
    for (const store of database.objectStoreNames) {
      const request = database.transaction(store).objectStore(store).getAll();
      all[store] = await new Promise((done) => (request.onsuccess = () => done(request.result)));
    }
    return all;
  });

test("nothing is kept but the day on which it was gone through", async ({ page }) => {
  await page.clock.setFixedTime("2026-03-05T12:00:00");
  await arrive(page);
  await intoTheHood(page, byMouse);
  await page.click("#say-stop");
  await page.click("#go-on");
  await answer(page);
  const days = Date.UTC(2026, 2, 5) / 86_400_000;
  const all = async () => Object.entries(await kept(page)).filter(([, records]) => records.length > 0);
  await expect.poll(all).toEqual([["settings", [{ key: "orientation", json: String(days) }]]]);
});

test("to stop is possible wherever the hood is on, and ends it kindly", async ({ page }) => {
  for (const where of ["hood", "screening", "ready", "test"]) {
    await arrive(page);
    if (where === "hood") {
      for (let step = 0; step < 4; step++) await page.click("#go-on");
    } else {
      await intoTheHood(page, byMouse);
    }
    if (where === "ready" || where === "test") {
      await intoTheMask(page, byMouse);
      if (where === "ready") {
        await page.click("#say-stop");
        await page.click("#again");
        await at(page, "told.hood");
      } else {
        for (let turn = 0; turn < 5; turn++) await page.click("#let-pass");
      }
    }
    await page.click("#say-stop");
    await at(page, "after.stopped");
    await expect(page.locator("main")).toContainText("To stop is not to fail.");
    await page.goto("about:blank");
  }
});

test("silence about a taste is told for what it was", async ({ page }) => {
  await arrive(page);
  await intoTheHood(page, byMouse);
  await intoTheMask(page, byMouse);
  while (await page.locator("#let-pass").count()) await page.click("#let-pass");
  await at(page, "asked");
  await page.click("#say-other");
  await at(page, "asked");
  await page.click("#say-nothing");
  await at(page, "after.silent");
  await expect(page.locator("main")).toContainText("false pass");
  await expect(page.locator("main")).toContainText("made up");
});

test("a smell is said and is no taste, an itch is left alone, and a good mask is told so", async ({ page }) => {
  await arrive(page, "en", "smell");
  await intoTheHood(page, byMouse);
  await intoTheMask(page, byMouse);
  while (!/itches/.test((await cue(page))!)) await page.click("#let-pass");
  await page.click("#say-touch");
  await expect(page.locator(".reply")).toContainText("Hands off");
  await page.click("#say-other");
  await expect(page.locator(".reply")).toContainText("leave the mask alone");
  while (!/plastic/.test((await cue(page))!)) await page.click("#let-pass");
  await page.click("#say-other");
  await expect(page.locator(".reply")).toContainText("not the spray");
  while (await page.locator("#let-pass").count()) await page.click("#let-pass");
  await page.click("#say-nothing");
  await at(page, "after.smell-said");
  await expect(page.locator("main")).toContainText("You touched the mask.");
});

test("by the clock the seven take a minute, or three, or wait", async ({ page }) => {
  await page.clock.install();
  await arrive(page, "en", "fits");
  for (let step = 0; step < 5; step++) await page.click("#go-on");
  await page.clock.runFor(9_000);
  await expect(page.locator("#say-nothing")).toBeVisible();
  await page.click("#say-taste");
  await page.click("#go-on");
  await page.selectOption("#pace", "slow");
  await page.click("#go-on");
  await at(page, "test");
  await page.clock.runFor(60_000);
  await at(page, "test");
  await page.selectOption("#pace", "steps");
  const said = await page.locator(".senses").textContent();
  await page.clock.runFor(600_000);
  expect(await page.locator(".senses").textContent()).toBe(said);
  await page.selectOption("#pace", "short");
  await page.clock.runFor(40_000);
  await at(page, "asked");
  await page.click("#say-nothing");
  await at(page, "after.quiet");
});

for (const width of [360, 320]) {
  test(`it fits ${width} px, under a thumb`, async ({ page }) => {
    await page.setViewportSize({ width, height: 740 });
    for (const language of ["en", "es"] as const) {
      await arrive(page, language, "smell");
      await intoTheHood(page, byMouse);
      await clean(page, `the hood, ${language}, ${width} px`);
      await intoTheMask(page, byMouse, language);
      for (let turn = 0; turn < 9; turn++) {
        await page.click("#let-pass");
        const small = await page.locator("main :is(button, select)").evaluateAll((all) =>
          all.filter((one) => one.getBoundingClientRect().height < 44 || one.scrollWidth > one.clientWidth + 1).map((one) => one.id),
        );
        expect(small).toEqual([]);
      }
      await clean(page, `the mask, ${language}, ${width} px`);
    }
  });
}

test("the view moves with the head, and stands still where motion is not wanted", async ({ page }) => {
  const moves = () => page.locator("svg.inside").evaluate((svg) => svg.getAnimations({ subtree: true }).length);
  for (const still of [false, true]) {
    await page.emulateMedia({ reducedMotion: still ? "reduce" : "no-preference" });
    await arrive(page, "en", "fits");
    await intoTheHood(page, byMouse);
    await intoTheMask(page, byMouse);
    while (!(await page.locator(".look-side").count())) await page.click("#let-pass");
    expect((await moves()) > 0).toBe(!still);
    // The hood with all beyond it, and the mist, which is drawn over the mask.
    await expect(page.locator('.look-side[transform="translate(-90 0)"]')).toHaveCount(2);
    await page.goto("about:blank");
  }
});

test("the picture says in words what it shows", async ({ page }) => {
  await arrive(page, "en", "fits");
  await intoTheHood(page, byMouse);
  const image = page.getByRole("img");
  await expect(image).toHaveAccessibleName(/no mask on.*no mist.*puff/i);
  await page.click("#let-pass");
  await page.click("#let-pass");
  await expect(image).toHaveAccessibleName(/thin mist|mist in the hood/);
  await page.click("#say-taste");
  await page.click("#go-on");
  await expect(image).toHaveAccessibleName(/edge of your mask/);
});

test("on paper there is the card alone, and it says what it is not", async ({ page }) => {
  await arrive(page);
  await intoTheHood(page, byMouse);
  await page.click("#say-stop");
  await page.click("#go-on");
  await answer(page);
  await page.emulateMedia({ media: "print" });
  const shown = await page.evaluate(() => document.body.innerText.trim());
  expect(shown).toBe((await page.locator(".worker-card").innerText()).trim());
  expect(shown).toContain("no fit test");
  expect(shown).toContain("no certificate");
  expect((await page.pdf({ format: "A5" })).toString("latin1").match(/\/Type\s*\/Page[^s]/g)).toHaveLength(1);
});

test("it is reached from the start, and the other spray can be chosen", async ({ page }) => {
  await start(page);
  await page.click("#to-wearer");
  await page.selectOption("#spray", "bitter");
  await expect(page.locator(".worker")).toHaveAttribute("data-agent", "bitter");
  for (const name of ["Español", "English"]) {
    await page.getByRole("button", { name }).click();
    await at(page, "told.welcome");
    await expect(page.locator(".worker")).toHaveAttribute("data-agent", "bitter");
  }
  await intoTheHood(page, byMouse);
  await expect.poll(async () => {
    await page.click((await page.locator("#say-nothing").count()) ? "#say-nothing" : "#let-pass");
    return cue(page);
  }).toMatch(/bitter/);
});
