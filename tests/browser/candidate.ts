// A candidate in an assessment, by whatever hand: sets the terms, makes the runs, names and answers what is asked. What is right
// in it was worked out by the engine (tests/checks/assessed.rs).
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Page } from "@playwright/test";
import { type Hand, expect, start } from "./conductor";

export type Done = [string, string];
interface Answered {
  id: string;
  places?: number[];
  order?: string[];
  figure?: string;
  unit?: string;
}
export const kept: { number: number; quiet: number; runs: Done[][]; spoilt: Done[]; drills: { named: number; next: number | null }[]; questions: Answered[] } =
  JSON.parse(readFileSync(join(__dirname, "assessed.json"), "utf8"));

/** From the first screen: sets the terms and begins. */
export async function sit(page: Page, hand: Hand, pace = "stepped", limit = "off") {
  await start(page);
  await hand.press("#to-assessment");
  await expect(page.locator("#begin")).toBeEnabled();
  await hand.choose("#pace", pace);
  await hand.choose("#limit", limit);
  await hand.write("#number", String(kept.number));
  await hand.press("#begin");
  await expect(page.locator("#begin-run")).toBeVisible();
}

/** Does an act at the bench; the phase in which it lies is opened where it does not lie open. */
async function act(page: Page, hand: Hand, [code, given]: Done) {
  if (code === "squeeze") return hand.squeeze();
  if (code === "stop") return hand.press("#stop");
  if (code === "wait") {
    await hand.choose("#wait-how-long", String(Number(given) / 1000));
    return hand.press("#wait");
  }
  if (code === "note") {
    await hand.choose("#note-what", given);
    return hand.press("#note");
  }
  const button = code === "record" ? "#record" : `[id="act-${code}-${given.replace(/[:,]/g, "-")}"]`;
  const phases = page.locator(".phases button");
  for (let phase = 0; (await page.locator(button).count()) === 0; phase++) {
    await hand.press(`.phases button >> nth=${phase}`);
    expect(phase, button).toBeLessThan(await phases.count());
  }
  if (code === "record") for (const field of given.split(",")) await hand.tick(`#field-${field}`);
  await hand.press(button);
}

export async function run(page: Page, hand: Hand, acts: Done[]) {
  await hand.press("#begin-run");
  await expect(page.locator("#squeeze")).toBeVisible();
  // Neither help, nor a way to stop the clock or to change its pace.
  await expect(page.locator("#guide-act, .pace, #hint")).toHaveCount(0);
  for (const one of acts) await act(page, hand, one);
  await expect(page.locator("#to-review")).toBeFocused();
  await hand.press("#to-review");
}

export async function drills(page: Page, hand: Hand) {
  await hand.press("#begin-asked");
  for (const { named, next } of kept.drills) {
    await expect(page.locator("#drill-title")).toBeFocused();
    await hand.tick(`#named-${named}`);
    if (next !== null) await hand.tick(`#next-${next}`);
    await hand.press("#give");
  }
}

export async function questions(page: Page, hand: Hand) {
  for (const { id, places, order, figure, unit } of kept.questions) {
    await expect(page.locator(`[data-question="${id}"]`)).toBeVisible();
    for (const place of places ?? []) await hand.tick(`#option-${place}`);
    for (const [place, letter] of (order ?? []).entries()) {
      const at = () => page.locator(".ordered li").evaluateAll((rows, letter) => rows.findIndex((row) => (row as HTMLElement).dataset.letter === letter), letter);
      while ((await at()) > place) await hand.press(`#up-${letter}`);
    }
    if (figure) {
      await hand.write("#figure", figure);
      await hand.choose("#unit", unit!);
    }
    await hand.press("#give");
    // Nothing is said of it before the end.
    await expect(page.locator("#verdict")).toHaveCount(0);
  }
}


/** Ends it before everything is done. */
export async function close(page: Page, hand: Hand) {
  await hand.press("#close");
  await hand.press("#close-sure");
  await expect(page.locator("#result")).toHaveAttribute("data-passed", "false");
  await expect(page.locator("#heading")).toBeFocused();
}
