// Progress: what it says on a fresh device, how it stands and until when, what is due, and that ten thousand attempts open in a second.
import { type Page } from "@playwright/test";
import { clean } from "./axe";
import { questions } from "./bank";
import { expect, golden, open, reach, start, test } from "./conductor";
import { type Ended, answer, enough, keep, many, manyAnswers, outcome, today } from "./past";

const DAY = 86_400_000;

/** The screen, with this behind it. */
async function progress(page: Page, runs: Ended[], answers: string[] = [], language = "en") {
  await page.goto(`./?lang=${language}#/progress`);
  await expect(page.locator("#nothing-yet")).toBeVisible();
  await keep(page, runs.map(outcome), answers);
  await page.reload();
  await expect(page.locator("#practised")).toBeVisible();
}

const sweet = (page: Page) => page.locator(".with-agent[data-agent=sweet]");

test("on a fresh device it says what to do", async ({ page }) => {
  await page.goto("#/progress");
  await expect(page).toHaveTitle("Progress · Bittersweet");
  await expect(page.locator("#nothing-yet")).toContainText("Begin a run");
  await expect(page.locator(".course")).toHaveCount(0);
  await page.getByRole("link", { name: "Answer questions" }).click();
  await expect(page.locator("#give")).toBeVisible();
});

test("who is ready is told with how sure that is and until when, and a day later what is missing", async ({ page }) => {
  await page.clock.setFixedTime(new Date("2026-03-10T12:00:00"));
  const day = Math.floor(Date.UTC(2026, 2, 10) / DAY);
  await progress(page, enough(day));
  await expect(sweet(page).locator(".verdict-line")).toContainText("Ready to be observed");
  // Eleven of eleven: Clopper and Pearson, one-sided, 90 %: 0.1 to the power of 1/11 is 0.811.
  await expect(sweet(page)).toContainText("Of the latest 11 things");
  await expect(sweet(page)).toContainText("With a confidence of 90%, at least 81%");
  // The first run was on 6 March; it counts for 365 days.
  await expect(sweet(page).locator(".until")).toContainText("6 March 2027");
  await expect(page.locator(".with-agent[data-agent=bitter] .verdict-line")).toContainText("Not yet");
  // After a reload it is the same; a month later as well; on the day itself no more.
  for (const [date, says] of [["2026-03-10", "Ready"], ["2026-04-10", "Ready"], ["2027-03-05", "Ready"], ["2027-03-06", "Not yet"]]) {
    await page.clock.setFixedTime(new Date(`${date}T12:00:00`));
    await page.reload();
    await expect(sweet(page).locator(".verdict-line"), date).toContainText(says);
  }
  await expect(sweet(page)).toContainText("Runs: 1");
  await expect(sweet(page).locator(".until")).toHaveCount(0);
});

test("an answer raises nothing that was shown in runs, and one agent nothing of the other", async ({ page }) => {
  const day = today();
  const answers = questions().filter(([skill]) => skill === "running").map(([skill, id]) => answer(id, skill, day, true));
  await progress(page, [], answers);
  const running = page.locator("[data-skill=running]");
  await expect(running.locator(".shown")).toContainText("nothing shown");
  await expect(running.locator(".known")).toContainText(`By answers (${answers.length})`);
  await expect(page.locator("[data-skill=watching] .known")).toContainText("none yet");
  await expect(sweet(page)).toContainText("Runs: 5");
  await page.selectOption("#agent", "bitter");
  await expect(running.locator(".known")).toContainText("none yet");
});

test("what is due is told, and a month later too", async ({ page }) => {
  await page.clock.setFixedTime(new Date("2026-03-10T12:00:00"));
  const day = Math.floor(Date.UTC(2026, 2, 10) / DAY);
  const answers = questions().slice(0, 3).map(([skill, id]) => answer(id, skill, day, true));
  // What the bank asks no more is never due.
  await progress(page, [], [...answers, answer("gone-long-ago", "result", day - 300, false)]);
  await expect(page.locator("#due")).toContainText("Nothing is due today");
  await expect(page.locator("#come-back")).toContainText("March 2026");
  await page.clock.setFixedTime(new Date("2026-04-10T12:00:00"));
  await page.reload();
  await expect(page.locator("#due")).toContainText("Ready to refresh: 3");
  await page.click("#to-refresh");
  await expect(page.locator("#due")).toContainText("Ready to refresh: 3");
});

test("what comes next is begun from here, by key", async ({ page }) => {
  const day = today();
  await progress(page, enough(day).slice(0, 1));
  // After a run, what is known: the questions that are linked are on that skill, with that agent.
  await expect(sweet(page)).toContainText("The skill that needs them most: Solutions and equipment");
  await reach(page, "#next-sweet");
  await page.keyboard.press("Enter");
  await expect(page.locator("#which")).toHaveValue("solutions");
  await page.goBack();
  // Nothing was done with the other agent: a run, unaided and in real time, by somebody who is not known.
  await reach(page, "#next-bitter");
  await page.keyboard.press("Enter");
  await expect(page.locator("#heading")).toBeFocused();
  await expect(page.locator(".room")).toHaveAttribute("data-agent", "bitter");
  await expect(page.locator(".guide")).toHaveCount(0);
  await expect(page.locator(".pace select")).toHaveValue("real");
});

test("each chart says in words and in a table what it shows", async ({ page }) => {
  await page.clock.setFixedTime(new Date("2026-03-12T12:00:00"));
  const day = Math.floor(Date.UTC(2026, 2, 12) / DAY);
  const run = (n: number, ago: number, kept: [number, number]): Ended => ({ run: `run-${n}`, day: day - ago, kept });
  await progress(page, [run(1, 21, [1, 2]), run(2, 14, [3, 4]), run(3, 0, [9, 10]), { ...run(4, 0, [0, 10]), help: "guided" }]);
  const skill = page.locator("[data-skill=briefing]");
  const chart = skill.getByRole("img", { name: "Briefing the wearer, over time" });
  await expect(chart).toHaveAccessibleDescription(/Rules kept in runs: at first 50%, last 90%, lowest 50%, highest 90%\. Answers wholly right: none\./);
  // Three weeks with a mark, and one line: over the week without any there is none.
  await expect(chart.locator("svg.runs")).toHaveCount(3);
  await expect(chart.locator("line.runs")).toHaveCount(1);
  await reach(page, "[data-skill=briefing] summary");
  await page.keyboard.press("Enter");
  const rows = await skill.locator("tbody tr").allInnerTexts();
  expect(rows.map((row) => row.replace(/\s+/g, " "))).toEqual([
    "16 Feb 2026 1 of 2 (50%) none",
    "23 Feb 2026 3 of 4 (75%) none",
    "9 Mar 2026 9 of 10 (90%) none",
  ]);
});

test("runs are listed twenty at a time, with what stands and what was caught apart, and the focus goes on", async ({ page }) => {
  const runs = Array.from({ length: 45 }, (_, n): Ended => ({ run: `run-${100 + n}`, scenario: "bakery", day: today() - 45 + n }));
  runs[44] = { ...runs[44], gravest: ["fit.top_up", "spoils"], events: [["stubble", true], ["swapped", true], ["tells-late", false], ["coughs", true]] };
  await progress(page, runs);
  const items = page.locator(".ended > li");
  await expect(items).toHaveCount(20);
  await expect(items.first()).toContainText("spoils the result");
  await expect(items.first()).toContainText("Caught: 2. Missed: 1. Harmless and let pass: 1. Called without need: 0.");
  await expect(items.nth(1)).toContainText("No finding remains");
  await reach(page, "#more-runs");
  await page.keyboard.press("Enter");
  await expect(items).toHaveCount(40);
  await expect(page.locator("#ended-20")).toBeFocused();
  await page.click("#more-runs");
  await expect(items).toHaveCount(45);
  await expect(page.locator("#ended-40")).toBeFocused();
  await expect(page.locator("#more-runs")).toHaveCount(0);
});

test("a run that is ended stands here after a reload, with the way to its review", async ({ page }) => {
  await start(page);
  const run = JSON.parse(golden("records-office"));
  run.acts.pop();
  await open(page, JSON.stringify(run));
  await page.locator(".pace select").selectOption("stepped");
  await page.click("#guide-act");
  await page.keyboard.press("Enter");
  await expect(page.locator("#to-review")).toBeVisible();
  await page.goto("#/progress");
  await page.reload();
  await expect(page.locator(".ended > li")).toHaveCount(1);
  await page.click("#ended-0");
  await expect(page.locator(".review")).toBeVisible();
});

test("ten thousand attempts open within a second", async ({ page }) => {
  test.setTimeout(120_000);
  await page.goto("#/progress");
  await expect(page.locator("#nothing-yet")).toBeVisible();
  await keep(page, many(5_000, today()), manyAnswers(5_000, today(), questions()));
  const times: number[] = [];
  const busy: number[] = [];
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable", { timeDomain: "threadTicks" });
  // What the page's own thread has worked, whatever else the machine had to do.
  const worked = async () => {
    const { metrics } = await session.send("Performance.getMetrics");
    return metrics.find(({ name }) => name === "TaskDuration")!.value * 1_000;
  };
  for (let turn = 0; turn < 5; turn++) {
    // From the record on, which is of the same module: what is measured is the screen, and not how the module comes.
    await page.goto("#/record");
    await page.reload();
    await expect(page.locator(".facts")).toBeVisible();
    const before = await worked();
    times.push(
      await page.evaluate(
        () =>
          new Promise<number>((done) => {
            const from = performance.now();
            location.hash = "#/progress";
            const look = () => {
              if (document.querySelector("#listed") && document.querySelector("#due")) done(performance.now() - from);
              else requestAnimationFrame(look);
            };
            look();
          }),
      ),
    );
    busy.push((await worked()) - before);
  }
  await expect(page.locator("#practised")).toHaveText("Runs: 5000. Assessments with at least one finished run: 0. Answers to questions and drills: 5000.");
  await expect(page.locator(".ended > li")).toHaveCount(20);
  const listed = (times: number[]) => times.map((time) => time.toFixed(0)).join(", ");
  console.log(`10 000 attempts open in ${listed(times)} ms; the page itself works for ${listed(busy)} ms of them`);
  expect(Math.min(...busy)).toBeLessThan(1_000);
});

for (const [language, scheme, width] of [["en", "light", 1280], ["en", "dark", 360], ["es", "light", 320], ["es", "dark", 1280]] as const) {
  test(`axe finds nothing and nothing is cut off, ${language}, ${scheme}, ${width} px`, async ({ page }) => {
    await page.emulateMedia({ colorScheme: scheme });
    await page.setViewportSize({ width, height: 800 });
    await page.goto(`./?lang=${language}#/progress`);
    await expect(page.locator("#nothing-yet")).toBeVisible();
    await clean(page, "nothing yet");
    const day = today();
    const past: Ended[] = [30, 60, 90].map((ago) => ({ run: `old-${ago}`, scenario: "bakery", day: day - ago, kept: [6, 10], gravest: ["fit.top_up", "spoils"] }));
    const answers = questions().slice(0, 20).map(([skill, id], n) => answer(id, skill, day - n * 5, n % 3 > 0, n % 2 ? "bitter" : "sweet"));
    await keep(page, [...enough(day), ...enough(day, "bitter").slice(2), ...past].map(outcome), answers);
    await page.reload();
    await expect(page.locator("#due")).toBeVisible();
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
    await clean(page, "with runs and answers");
    // A letter of a chart stands within its drawing's width and beside no other.
    const crowded = await page.evaluate(() =>
      [...document.querySelectorAll(".course")].filter((one) => {
        const [from, to] = [...one.querySelectorAll("text:not(.level)")].map((text) => text.getBoundingClientRect());
        return to && from.right > to.left;
      }).length,
    );
    expect(crowded).toBe(0);
    if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/progress ${language} ${scheme} ${width}.png`, fullPage: true });
  });
}
