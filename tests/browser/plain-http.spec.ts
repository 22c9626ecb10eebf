// At a plain address on a local network, which browsers do not call secure: everything but the use without a network is there,
// and that it is not is said.
import { drills, kept, questions, result, run, seen, sit, stays } from "./candidate";
import { begin, expect, follow, logbook, mouse, start, test } from "./conductor";
import config from "./playwright.config";

const NAME = "practice.test";
const { port, pathname } = new URL(process.env.PLAIN_URL!);
const { launchOptions } = config.use!;

test.use({
  baseURL: `http://${NAME}:${port}${pathname}`,
  serviceWorkers: "allow",
  launchOptions: { ...launchOptions, args: [...launchOptions!.args!, `--host-resolver-rules=MAP ${NAME} 127.0.0.1`] },
});
test.describe.configure({ timeout: 120_000 });

test("a whole test is made, comes back after a reload, and is one window's at a time", async ({ page, context }) => {
  await begin(page, "grinding-shop");
  expect(await page.evaluate(() => [isSecureContext, typeof crypto.randomUUID, typeof navigator.clipboard, typeof navigator.locks])).toEqual([false, "undefined", "undefined", "undefined"]);
  const hand = mouse(page);
  await follow(page, hand, (lines) => lines > 30);
  const before = await logbook(page);
  await page.reload();
  await expect(page.locator("#squeeze")).toBeVisible();
  expect(await logbook(page)).toEqual(before);
  // Another window finds it taken, takes it, and gives it back.
  const other = await context.newPage();
  await other.goto(page.url());
  await expect(other.locator("#take-over")).toBeVisible();
  await other.click("#take-over");
  await expect(other.locator("#squeeze")).toBeVisible();
  expect(await logbook(other)).toEqual(before);
  await expect(page.locator("#take-over")).toBeVisible();
  await other.close();
  await page.click("#take-over");
  await follow(page, hand);
  await page.click("#to-review");
  await expect(page.locator(".review")).toContainText("Nothing found");
  await page.reload();
  await expect(page.locator("td.right")).toHaveCount(1);
  await page.click(".mark");
  await expect(page.locator(".kept li")).toHaveCount(1);
});

test("a drill is named, and what was answered comes back", async ({ page }) => {
  await start(page);
  await page.click("#to-drills");
  await page.locator("#named-0").check();
  if (await page.locator("#next-0").count()) await page.locator("#next-0").check();
  await page.click("#give");
  await expect(page.locator("#verdict")).toBeVisible();
  await page.reload();
  await page.goto("./#/refresh");
  await expect(page.locator("#come-back")).toContainText("To refresh then: 1");
});

test("an assessment is passed, with a reload after every part of it, and its result stays", async ({ page }) => {
  const candidate = seen(page, mouse(page));
  await start(page);
  await sit(candidate);
  for (const acts of kept.runs) {
    await run(candidate, acts);
    await page.reload();
  }
  await drills(candidate);
  await page.reload();
  await questions(candidate);
  await result(candidate, true);
  await page.reload();
  await result(candidate, true);
  await stays(candidate);
});

test("what cannot be had is said, and everything kept can be saved as a file", async ({ page }) => {
  await begin(page, "sawmill");
  await page.click("#act-ask-clearance-");
  await page.goto("./#/about");
  await expect(page.getByText("only from an https address or from localhost")).toBeVisible();
  await page.goto("./#/learners");
  const [download] = await Promise.all([page.waitForEvent("download"), page.click("#save-all")]);
  expect(download.suggestedFilename()).toContain("bittersweet");
});
