// How long things take with ten, a hundred, a thousand and ten thousand attempts kept.
import { type Page, expect, test } from "@playwright/test";
import { questions } from "../bank";
import { keep, many, manyAnswers, today } from "../past";
import { ROUNDS, at, note } from "./note";

const SIZES = [10, 100, 1_000, 10_000];

/** How long, from such a step in the page, until all of this is there. */
const until = (page: Page, hash: string, there: string[]) =>
  page.evaluate(
    ([hash, there]) =>
      new Promise<number>((done) => {
        const from = performance.now();
        location.hash = hash;
        const look = () => {
          if (there.every((one) => document.querySelector(one))) done(performance.now() - from);
          else requestAnimationFrame(look);
        };
        look();
      }),
    [hash, there] as const,
  );

/** From the page's address to the first screen with what is due. */
async function opening(page: Page) {
  await page.goto("about:blank");
  const from = performance.now();
  await page.goto("./");
  await page.waitForSelector("#to-refresh .due");
  return performance.now() - from;
}

/** From another screen of the same module: what is measured is the screen, and not how the module comes. */
async function readiness(page: Page) {
  await page.goto("#/record");
  await page.reload();
  await expect(page.locator(".facts")).toBeVisible();
  return until(page, "#/progress", ["#listed", "#due"]);
}

async function record(page: Page) {
  await page.goto("#/progress");
  await page.reload();
  await expect(page.locator("#listed")).toBeVisible();
  return until(page, "#/record", [".facts"]);
}

async function backup(page: Page) {
  await page.goto("#/learners");
  await page.reload();
  await expect(page.locator("#save-all")).toBeVisible();
  const from = performance.now();
  await Promise.all([page.waitForEvent("download"), page.click("#save-all")]);
  return performance.now() - from;
}

const THINGS = { opening, readiness, record, backup };

test("growth", async ({ browser }) => {
  const times = new Map<string, number[][]>(Object.keys(THINGS).map((name) => [name, []]));
  for (const size of SIZES) {
    const page = await browser.newPage();
    await page.goto("./#/progress");
    await expect(page.locator("#nothing-yet")).toBeVisible();
    await keep(page, many(size / 2, today()), manyAnswers(size / 2, today(), questions()));
    for (const [name, thing] of Object.entries(THINGS)) {
      const samples: number[] = [];
      for (let round = 0; round < ROUNDS; round++) samples.push(await thing(page));
      times.get(name)!.push(samples);
    }
    await page.close();
  }
  for (const [name, sizes] of times) {
    note(name, sizes.at(-1)!);
    // The worst step from one size to ten times as many.
    const steps = sizes.slice(1).map((more, size) => ({ more, less: sizes[size], grows: at(0.5, more) / at(0.5, sizes[size]) }));
    const { more, less } = steps.reduce((worst, step) => (step.grows > worst.grows ? step : worst));
    note(`${name}-growth`, more, less);
  }
});
