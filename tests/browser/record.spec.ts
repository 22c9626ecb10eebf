// The record of practice on paper, and the sample record that is written in a run.
import { readFileSync } from "node:fs";
import { type Page } from "@playwright/test";
import { clean } from "./axe";
import { expect, golden, open, reach, start, test } from "./conductor";
import { type Ended, answer, enough, keep, outcome, today } from "./past";

const ACROSS = { en: "SAMPLE – invented wearer", es: "MUESTRA – persona inventada" };

/** The paper, with this behind it. */
async function paper(page: Page, runs: Ended[], language: "en" | "es" = "en") {
  await page.goto(`./?lang=${language}#/record`);
  await expect(page.locator("#nothing-yet")).toBeVisible();
  await keep(page, runs.map(outcome), [answer("one-cough-deep-breathing", "watching", today(), true)]);
  await page.reload();
  await expect(page.locator(".facts")).toBeVisible();
}

/** How many pages it takes on A4. */
async function pages(page: Page) {
  const pdf = await page.pdf({ format: "A4", preferCSSPageSize: true });
  return pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)!.length;
}

/** A golden run whose record holds these fields. */
function recorded(id: string, fields: string) {
  const run = JSON.parse(golden(id));
  const records = run.acts.filter((act: { act: string }) => act.act === "record");
  expect(records.length).toBeGreaterThan(0);
  for (const record of records) record.with = fields;
  return JSON.stringify(run);
}

test("without practice there is no record, but the checklist", async ({ page }) => {
  await page.goto("#/record");
  await expect(page).toHaveTitle("Record of practice · Bittersweet");
  await expect(page.locator("#nothing-yet")).toBeVisible();
  await expect(page.locator(".checklist tbody tr")).toHaveCount(16);
});

test("it says what it is, who, what and when, and nothing that the model reckons", async ({ page }) => {
  const day = today();
  const runs: Ended[] = [...enough(day), { run: "run-z", scenario: "bakery", day, help: "on-request", real: false, gravest: ["fit.top_up", "spoils"] }];
  await paper(page, runs);
  await expect(page.locator(".states")).toHaveText("Practice on a simulation: not a fit test, not a certification.");
  const rows = page.locator("section[aria-labelledby=latest-title] tbody tr");
  await expect(rows).toHaveCount(6);
  await expect(rows.first()).toHaveText(/Noor, from the bakerysweetHelp on requestnot in real time throughout0 of 1spoils the result$/);
  await expect(page.locator(".shows[data-agent=sweet]")).toContainText("at least 81%");
  await expect(page.locator(".facts")).toContainText("Runs ended6");
  await expect(page.locator(".facts")).toContainText("unaided and in real time5");
  await expect(page.locator(".paper")).not.toContainText(/fit factor|poor fit|chance that/i);
});

test("the name is typed by key, kept on this device, and stands on the paper", async ({ page }) => {
  await paper(page, enough(today()));
  await reach(page, "#name");
  await page.keyboard.type("Somebody <b>Invented</b>");
  await expect(page.locator(".facts dd").first()).toHaveText("Somebody <b>Invented</b>");
  await page.reload();
  await expect(page.locator("#name")).toHaveValue("Somebody <b>Invented</b>");
  let printed = 0;
  await page.exposeFunction("printed", () => printed++);
  await page.evaluate(() => (window.print = () => (window as any).printed()));
  await reach(page, "#print");
  await page.keyboard.press("Enter");
  await expect.poll(() => printed).toBe(1);
});

for (const language of ["en", "es"] as const) {
  test(`on paper it takes two pages, and the checklist is blank, in ${language}`, async ({ page }) => {
    const runs = Array.from({ length: 40 }, (_, n): Ended => ({ run: `run-${n + 100}`, scenario: "bakery", day: today() - n }));
    await paper(page, runs, language);
    expect(await pages(page)).toBe(2);
    await page.emulateMedia({ media: "print" });
    await expect(page.locator(".states")).toBeVisible();
    await expect(page.locator("#name")).toBeHidden();
    await expect(page.locator("#print")).toBeHidden();
    // A short, legible list; the rest is counted.
    await expect(page.locator("section[aria-labelledby=latest-title] tbody tr")).toHaveCount(12);
    const filled = await page.locator(".checklist td.fill, .checklist .box").allInnerTexts();
    expect(filled.filter((text) => text.trim())).toEqual([]);
    await expect(page.locator(".foot")).toContainText(language === "en" ? "Training only" : "Solo para capacitación");
  });

  test(`the record that was written is a sample, marked across, in ${language}`, async ({ page }) => {
    await page.goto(`./?lang=${language}`);
    await open(page, golden("paint-line"));
    const cards = page.locator(".review .sample");
    await expect(cards).toHaveCount(2);
    for (const card of await cards.all()) {
      await expect(card.locator(".mark-line")).toHaveText(ACROSS[language]);
      await expect(card.locator(".across text")).toHaveText(ACROSS[language]);
    }
    // Nothing on it can be typed into, and nobody signs.
    await expect(cards.locator("input, textarea, [contenteditable]")).toHaveCount(0);
    await expect(cards.first()).not.toContainText(/sign|firma/i);
    // Printed alone, marked across; the review itself is printed without them.
    await page.evaluate(() => (window.print = () => document.body.classList.add("printed")));
    await reach(page, "#print-samples");
    await page.keyboard.press("Enter");
    await expect(page.locator("body.printed")).toHaveCount(1);
    await page.emulateMedia({ media: "print" });
    await expect(cards.first().locator(".across")).toBeVisible();
    await expect(cards.first().locator(".mark-line")).toBeVisible();
    await expect(page.locator(".review .only-print").first()).toBeVisible();
    await expect(page.locator("#results-title")).toBeHidden();
    expect(await pages(page)).toBe(1);
    await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
    await expect(cards.first()).toBeHidden();
    await expect(page.locator("#results-title")).toBeVisible();
    await page.emulateMedia({ media: "screen" });
    const download = page.waitForEvent("download");
    await reach(page, "#save-sample-2");
    await page.keyboard.press("Enter");
    const file = await download;
    expect(file.suggestedFilename()).toMatch(/^bittersweet-sample-.*-2\.txt$/);
    const lines = readFileSync(await file.path(), "utf8").trim().split("\n");
    expect([lines[0], lines.at(-1)]).toEqual([ACROSS[language], ACROSS[language]]);
    const [, name] = /"name":"([^"]+)"/.exec(golden("paint-line"))!;
    expect(lines.filter((line) => line.includes(name))).toHaveLength(1);
    expect(lines.filter((line) => / — |: /.test(line)).length).toBeGreaterThanOrEqual(5);
  });
}

test("only the fields that were chosen are filled, and what the law asks for is told apart", async ({ page }) => {
  const field = (name: string) => page.locator(`.sample [data-field=${name}] dd`);
  await start(page);
  await open(page, recorded("grinding-shop", "wearer,result,health"));
  await expect(field("result")).toHaveText("pass");
  await expect(field("facepiece")).toHaveText("left blank");
  await expect(field("health")).toContainText("has no place here");
  await expect(page.locator(".judged .wrong").first()).toContainText("these are blank: which test, which facepiece, when.");
  await expect(page.locator(".judged .wrong").first()).toContainText("1910.134(m)(2)(i)");
  await expect(page.locator(".judged .wrong").nth(1)).toContainText("Keep health out of the record");
  await expect(page.locator(".finding[data-rule='record.fields'], .finding[data-rule='record.health']")).toHaveCount(2);
  await start(page);
  await open(page, recorded("grinding-shop", "wearer,test,facepiece,date,result,conductor,threshold"));
  await expect(field("facepiece")).toContainText("make: invented for practice; model: ");
  await expect(field("threshold")).toContainText("threshold ");
  await expect(page.locator(".judged .right")).toContainText("All five");
  await expect(page.locator(".judged .wrong")).toHaveCount(0);
  await expect(page.locator(".review")).toContainText("Nothing found");
});

test("it shows as soon as the run is over, with the day on which it was made", async ({ page }) => {
  await page.clock.setFixedTime(new Date("2026-03-10T12:00:00"));
  await start(page);
  await open(page, golden("grinding-shop"));
  await expect(page.locator(".review .sample")).toBeVisible();
  await page.goto(page.url().replace("review", "run"));
  const card = page.locator(".over .sample");
  await expect(card.locator(".mark-line")).toHaveText(ACROSS.en);
  await expect(card.locator("[data-field=date] dd")).toHaveText("10 March 2026");
});

for (const [language, scheme, width] of [["en", "light", 1280], ["en", "dark", 360], ["es", "light", 320], ["es", "dark", 1280]] as const) {
  test(`axe finds nothing and nothing is cut off, ${language}, ${scheme}, ${width} px`, async ({ page }) => {
    await page.emulateMedia({ colorScheme: scheme });
    await page.setViewportSize({ width, height: 800 });
    const shot = async (name: string) => {
      await clean(page, name);
      if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/${name} ${language} ${scheme} ${width}.png`, fullPage: true });
    };
    await paper(page, [...enough(today()), { run: "last", scenario: "bakery", day: today(), help: "on-request", real: false, gravest: ["fit.top_up", "spoils"] }], language);
    await shot("record");
    await page.goto(`./?lang=${language}#/`);
    await open(page, recorded("paint-line", "wearer,test,facepiece,result,health,threshold"));
    await expect(page.locator(".sample").first()).toBeVisible();
    await shot("review with records");
    await page.goto(page.url().replace("review", "run"));
    await expect(page.locator(".over .sample")).toHaveCount(2);
    await shot("a run that is over");
  });
}
