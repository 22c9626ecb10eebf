// A conductor at the page: begins a run, follows the guide, acts by key or by mouse. Every test made with this `test` also
// fails on an error on the console, a broken policy, or a request to anywhere else.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Page, expect, test as base } from "@playwright/test";

export const test = base.extend<{ quiet: void }>({
  quiet: [
    async ({ page, baseURL }, use) => {
      const seen: string[] = [];
      page.on("console", (message) => ["error", "warning"].includes(message.type()) && seen.push(message.text()));
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

export async function begin(page: Page, id: string, help = "guided", pace = "stepped") {
  await start(page);
  await page.selectOption("#choose-help", help);
  await page.selectOption("#choose-pace", pace);
  await page.click(`#begin-${id}`);
  await expect(page.locator("#squeeze")).toBeVisible();
}

/** Opens a run file through the page's own file field. */
export async function open(page: Page, text: string, name = "run.json") {
  await page.setInputFiles("#open-file", { name, mimeType: "application/json", buffer: Buffer.from(text) });
}

const FIELDS = ["wearer", "test", "facepiece", "date", "result"];

/** One step of the guide: the button meant gets the focus and is pressed by key, or waiting is passed. */
async function step(page: Page, press: (selector: string) => Promise<void>) {
  const next = (await page.locator(".guide .next").innerText()).trim();
  const waits = (await page.locator("#guide-act").innerText()).trim() !== "Show me where";
  await press("#guide-act");
  if (waits) return;
  if (next.startsWith("Record")) {
    for (const field of FIELDS) {
      await reach(page, `#field-${field}`);
      if (!(await page.locator(`#field-${field}`).isChecked())) await page.keyboard.press(" ");
    }
    await reach(page, "#record");
  }
  await expect(page.locator(":focus")).not.toHaveAttribute("id", "guide-act");
  await page.keyboard.press("Enter");
}

/** Follows the guide until `until` says so or the run is over. */
export async function follow(page: Page, press: (selector: string) => Promise<void>, until = async () => false) {
  for (let steps = 0; steps < 900; steps++) {
    if (await page.locator("#to-review").count()) return;
    if (await until()) return;
    await step(page, press);
  }
  throw new Error("the guide leads nowhere");
}

export const byMouse = (page: Page) => (selector: string) => page.click(selector);

/** The key that goes to what is next by the book, then Enter. */
export const byKey = (page: Page) => async (selector: string) => {
  await page.keyboard.press("n");
  await expect(page.locator(selector)).toBeFocused();
  await page.keyboard.press("Enter");
};

/** Reaches a control by the Tab key alone, forwards or backwards. */
export async function reach(page: Page, selector: string) {
  const target = await page.locator(selector).elementHandle();
  const here = () => page.evaluate((element) => document.activeElement === element, target);
  // The shorter way round, as a person would go.
  const back = await page.evaluate((element) => {
    const at = document.activeElement;
    return !!at && at !== document.body && !!(element!.compareDocumentPosition(at) & Node.DOCUMENT_POSITION_FOLLOWING);
  }, target);
  for (let presses = 0; presses < 250 && !(await here()); presses++) await page.keyboard.press(back ? "Shift+Tab" : "Tab");
  expect(await here(), `${selector} is reached by Tab`).toBe(true);
}

/** The logbook's lines, latest first. */
export const logbook = (page: Page) => page.locator(".logbook li").allInnerTexts();
