// A walk past every screen, for what must hold on all of them.
import { type Page } from "@playwright/test";
import { begin, expect, open, spoilt, start } from "./conductor";
import { answer, enough, keep, outcome, today } from "./past";

/** Goes through the screens of a fresh page, and says where it is. */
export async function walk(page: Page, look: (where: string) => Promise<void>) {
  await start(page);
  await open(page, "{}");
  await expect(page.locator(".faults li").first()).toBeVisible();
  await look("the start, with a bad file");
  await page.goto("#/about");
  await look("what this is");
  await page.goto("#/teach");
  await look("what there is for whoever teaches");
  await page.goto("#/learners");
  await expect(page.locator("#save-all")).toBeVisible();
  await look("who practises here");
  await page.locator(".learners ul.kept button").last().click();
  await look("the question before erasing");
  await page.keyboard.press("Escape");
  await page.goto("#/x/y");
  await look("nowhere");
  await page.goto("#/run/not-here");
  await expect(page.locator("main [role=status]")).toBeVisible();
  await look("a run that is not here");
  await page.goto("#/wearer");
  await expect(page.locator("#go-on")).toBeVisible();
  for (let step = 0; step < 40; step++) {
    const control = page.locator("#let-pass:not([aria-disabled=true]), #say-nothing, #go-on, #give").first();
    await expect(control).toBeVisible();
    if (await page.locator("#give").count()) break;
    if (step % 4 === 0 || (await page.locator(".reply").count())) await look(`before a worker's own test, ${step}`);
    if ((await page.locator("#pace").count()) && (await page.locator("#pace").inputValue()) !== "steps") await page.selectOption("#pace", "steps");
    if (await page.locator(".look-side").count()) await page.click("#say-other");
    await control.click();
  }
  // Under the pseudo-language the questions are the English ones.
  for (let question = 0; question < 5; question++) {
    await page.click("label:has(#option-0)");
    await page.click("#give");
    await page.click("#next-question");
  }
  await expect(page.locator(".worker-card")).toBeVisible();
  await look("a worker's card");
  for (const help of ["guided", "on-request"]) {
    await begin(page, "tunnel-crew", help, "stepped");
    if (help === "on-request") {
      await page.click("#ask-hint");
      await page.click("#ask-hint");
    }
    const phases = page.locator(".phases button");
    for (let phase = 0; phase < (await phases.count()); phase++) {
      await phases.nth(phase).click();
      if (phase === 3) for (const act of ["#act-hood-on-", "#act-take-check", "#squeeze"]) await page.click(act);
      if (phase === 5) await page.click("#act-begin-talking");
      await look(`a run, ${help}, phase ${phase + 1}`);
    }
    await page.click(".mark");
  }
  await expect(page.locator(".kept li")).toHaveCount(2);
  await look("the start, with runs kept");
  await open(page, spoilt("paint-line"));
  await expect(page.locator(".finding").first()).toBeVisible();
  await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
  await look("the review, unfolded");
  await page.goto(page.url().replace("review", "run"));
  await expect(page.locator("#to-review")).toBeVisible();
  await look("a run that has ended");
  await page.click(".mark");
  await page.click("#watch-joinery");
  await page.click("#step");
  await look("watching a colleague");
  await page.click("#wrong");
  await page.selectOption("#slip", { index: 1 });
  await look("naming what is wrong");
  await page.click(".naming [type=submit]");
  await page.goto(page.url().replace("watch/", "compare/"));
  await expect(page.locator("#sum")).toBeVisible();
  await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
  await look("how it compares, unfolded");
  await page.goto("#/progress");
  await expect(page.locator("#nothing-yet")).toBeVisible();
  await look("progress, nothing yet");
  const day = today();
  await keep(page, enough(day).map(outcome), [answer("one-cough-deep-breathing", "watching", day, true)]);
  await page.reload();
  await expect(page.locator("#due")).toBeVisible();
  await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
  await look("progress, unfolded");
  await page.goto("#/record");
  await expect(page.locator(".facts")).toBeVisible();
  await look("the record of practice");
  await page.goto("#/questions");
  await expect(page.locator("#give")).toBeVisible();
  await look("question");
  await page.click("#give");
  await expect(page.locator(".practice [role=alert]")).not.toBeEmpty();
  await look("question, nothing answered");
  await choose(page);
  await page.click("#give");
  await expect(page.locator("#verdict")).toBeVisible();
  await look("question, answered");
  await page.goto("#/drills");
  await expect(page.locator("#drill-title")).toBeVisible();
  await look("a drill");
  await page.locator("[id^=named-]").first().check();
  if (await page.locator("input[id^=next-]").count()) await page.locator("input[id^=next-]").last().check();
  await page.click("#give");
  await expect(page.locator("#verdict")).toBeVisible();
  await look("a drill, answered");
  await page.goto("#/refresh");
  await expect(page.locator(".practice, #heading").first()).toBeVisible();
  await look("what has faded");
  await page.goto("#/assessment");
  await expect(page.locator("#begin")).toBeEnabled();
  await look("the terms of an assessment");
  await page.fill("#number", "7");
  await page.click("#begin");
  await expect(page.locator("#begin-run")).toBeVisible();
  await look("an assessment that has begun");
  await page.click("#begin-run");
  await expect(page.locator("#squeeze")).toBeVisible();
  await look("a run of an assessment");
}

/** Answers the question that stands there, whatever its kind, without asking whether that is right. */
async function choose(page: Page) {
  const kind = await page.locator(".question").getAttribute("data-kind");
  if (kind === "order") await page.locator(".moves button").nth(1).click();
  else if (kind === "number") await page.fill("#figure", "7");
  else await page.locator(".options label").first().click();
}
