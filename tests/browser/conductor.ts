// A conductor at the page: begins a run, follows the guide, acts by key or by mouse. Every test made with this `test` also
// fails on an error on the console, a broken policy, or a request to anywhere else.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Page, expect, test as base } from "@playwright/test";
import { settled } from "./store";

/** What Playwright itself says where it keeps workers away (see the configuration). */
export const NO_WORKER = "Service Worker registration blocked by Playwright";

export const test = base.extend<{ quiet: void }>({
  quiet: [
    async ({ page, baseURL }, use) => {
      const seen: string[] = [];
      page.on("console", (message) => {
        if (["error", "warning"].includes(message.type()) && message.text() !== NO_WORKER) seen.push(message.text());
      });
      page.on("pageerror", (error) => seen.push(error.message));
      page.on("request", (request) => {
        const url = new URL(request.url());
        if (url.protocol.startsWith("http") && url.origin !== new URL(baseURL!).origin) seen.push(`request to ${url}`);
      });
      await page.addInitScript(() => {
        document.addEventListener("securitypolicyviolation", (event) =>
          console.error(`policy: ${event.effectiveDirective} ${event.blockedURI}`),
        );
      });
      // A second may be lost where a page is left in the middle of an act; nobody here reloads as fast as that by chance.
      const reload = page.reload.bind(page);
      page.reload = async (options) => {
        await settled(page);
        return reload(options);
      };
      await use();
      expect(seen).toEqual([]);
    },
    { auto: true },
  ],
});
export { expect };

/** A golden run: one for each built-in scenario, by the book. */
export const golden = (id: string) => readFileSync(join(__dirname, "../golden", `${id}.json`), "utf8");

export async function start(page: Page) {
  await page.goto(".");
  await expect(page.locator("#heading")).toBeVisible();
}

export async function begin(page: Page, id: string, help = "guided", pace = "stepped", hand = mouse(page)) {
  await start(page);
  await hand.choose("#choose-help", help);
  await hand.choose("#choose-pace", pace);
  // Whoever is not there is looked for level by level.
  const folded = ".wearers details:not([open]) > summary";
  while (!(await page.locator(`#begin-${id}`).isVisible()) && (await page.locator(folded).count()) > 0) await hand.press(folded);
  await hand.press(`#begin-${id}`);
  await expect(page.locator("#squeeze")).toBeVisible();
}

/** Opens a run file through the page's own file field. */
export async function open(page: Page, text: string, name = "run.json") {
  await page.setInputFiles("#open-file", { name, mimeType: "application/json", buffer: Buffer.from(text) });
}

/** A way of working the page: how a control is pressed, chosen in, ticked or written in, and the bulb. */
export interface Hand {
  press(selector: string): Promise<void>;
  squeeze(): Promise<void>;
  choose(selector: string, value: string): Promise<void>;
  tick(selector: string): Promise<void>;
  write(selector: string, text: string): Promise<void>;
}

export const mouse = (page: Page): Hand => ({
  press: (selector) => page.click(selector),
  squeeze: () => page.click("#squeeze"),
  choose: async (selector, value) => void (await page.selectOption(selector, value)),
  tick: (selector) => page.check(selector),
  write: (selector, text) => page.fill(selector, text),
});

/** Keys alone: Tab to the control, then Enter; arrows in a list and among options of which one is chosen. */
export const tabbing = (page: Page): Hand => {
  const press = async (selector: string) => {
    await reach(page, selector);
    await page.keyboard.press("Enter");
  };
  return {
    press,
    squeeze: () => press("#squeeze"),
    choose: async (selector, value) => {
      await reach(page, selector);
      const away = () =>
        page.locator(selector).evaluate((list: HTMLSelectElement, value) => [...list.options].findIndex((one) => [one.value, one.label].includes(value)) - list.selectedIndex, value);
      for (let left = await away(); left !== 0; left = await away()) await page.keyboard.press(left > 0 ? "ArrowDown" : "ArrowUp");
    },
    tick: async (selector) => {
      await reach(page, selector);
      const is = (what: string) => page.locator(selector).evaluate((option, what) => option.matches(what), what);
      // Of several that exclude each other Tab knows one; the arrows go on from there, and choose as they go.
      for (let presses = 0; presses < 20 && !(await is(":focus")); presses++) await page.keyboard.press("ArrowDown");
      if (!(await is(":checked"))) await page.keyboard.press("Space");
    },
    write: async (selector, text) => {
      await reach(page, selector);
      await page.keyboard.press("ControlOrMeta+a");
      await page.keyboard.type(text);
    },
  };
};

/** Keys alone, with the shortcuts: N goes to what is next by the book, S squeezes. */
export const shortcuts = (page: Page): Hand => ({
  ...tabbing(page),
  press: async (selector) => {
    if (selector === "#guide-act") await page.keyboard.press("n");
    await tabbing(page).press(selector);
  },
  squeeze: () => page.keyboard.press("s"),
});

/** Where the run stands, in one look. */
const look = (page: Page) =>
  page.evaluate(() => ({
    over: !!document.querySelector("#to-review"),
    next: document.querySelector(".guide .next")?.textContent?.trim() ?? "",
    button: document.querySelector("#guide-act")?.textContent?.trim() ?? "",
    focus: document.activeElement?.id ?? "",
    lost: document.activeElement === document.body,
    lines: document.querySelectorAll(".logbook li").length,
  }));

const FIELDS = ["wearer", "test", "facepiece", "date", "result"];

/** Follows the guide until `until` says so or the run is over. The focus is never lost on the way. */
export async function follow(page: Page, hand: Hand, until: (lines: number) => boolean = () => false) {
  let after = "the beginning";
  for (let steps = 0; steps < 900; steps++) {
    // What is drawn anew takes the focus a moment later: lost is what stays lost.
    const lost = async () => (await look(page)).lost;
    await expect.poll(lost, { message: `the focus is lost after: ${after}`, timeout: 3_000, intervals: [20, 50, 100, 250] }).toBe(false);
    const { over, next, button, lines } = await look(page);
    if (over || until(lines)) return;
    after = next;
    if (button !== "Show me where") {
      await hand.press("#guide-act");
    } else if (next === "Squeeze") {
      await hand.squeeze();
    } else {
      await hand.press("#guide-act");
      const { focus } = await look(page);
      expect(focus, `the guide shows: ${next}`).not.toMatch(/^(guide-act)?$/);
      if (focus === "record") {
        for (const field of FIELDS) {
          if (!(await page.locator(`#field-${field}`).isChecked())) await hand.tick(`#field-${field}`);
        }
      }
      await hand.press(`[id="${focus}"]`);
    }
  }
  throw new Error("the guide leads nowhere");
}

/** Reaches a control, or one of those that exclude it, by the Tab key alone, the shorter way round, as a person would go. */
export async function reach(page: Page, selector: string) {
  const target = await page.locator(selector).elementHandle();
  const where = () =>
    page.evaluate((element) => {
      const at = document.activeElement;
      const kin = at instanceof HTMLInputElement && at.type === "radio" && at.name === (element as HTMLInputElement).name;
      if (at === element || kin) return "there";
      return at && at !== document.body && element!.compareDocumentPosition(at) & Node.DOCUMENT_POSITION_FOLLOWING ? "after" : "before";
    }, target);
  const key = (await where()) === "after" ? "Shift+Tab" : "Tab";
  for (let presses = 0; presses < 250 && (await where()) !== "there"; presses++) await page.keyboard.press(key);
  expect(await where(), `${selector} is reached by Tab`).toBe("there");
}

/** A golden run with one squeeze fewer at the beginning of its test: a finding in what was a pass. */
export function spoilt(id: string) {
  const run = JSON.parse(golden(id));
  const taken = run.acts.findIndex((act: { act: string; with: string }) => act.act === "take" && act.with === "fit");
  const squeeze = run.acts.findIndex((act: { act: string }, number: number) => number > taken && act.act === "squeeze");
  run.acts.splice(squeeze, 1);
  for (const event of run.events) if (event.after > squeeze) event.after -= 1;
  return JSON.stringify(run);
}

/** A golden run as it was after so many acts. */
export function cut(id: string, acts: number) {
  const run = JSON.parse(golden(id));
  run.acts.length = acts;
  run.events = run.events.filter((event: { after: number }) => event.after <= acts);
  return JSON.stringify(run);
}

/** What the first clock shows, in seconds. */
export async function seconds(page: Page) {
  const [minutes, rest] = (await page.getByRole("timer").first().innerText()).split(":").map(Number);
  return minutes * 60 + rest;
}

/** The logbook's lines, latest first. */
export const logbook = (page: Page) => page.locator(".logbook li").allInnerTexts();
