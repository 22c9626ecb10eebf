// Help on request and its cost, the guide that fades, the passage, and somebody nobody announced.
import { type Page } from "@playwright/test";
import { clean } from "./axe";
import { begin, expect, golden, logbook, open, reach, start, test } from "./conductor";

const phase = (page: Page, name: string) => page.click(`.phases button:has-text("${name}")`);

async function finish(page: Page) {
  await phase(page, "Afterward");
  await page.click("#act-finish-");
  await page.click("#to-review");
  await expect(page.locator(".review")).toBeVisible();
}

test("a hint asks before it tells, by key alone; it is kept, and costs in the review", async ({ page }) => {
  await begin(page, "grinding-shop", "on-request");
  const guide = page.locator(".guide");
  await expect(guide).not.toContainText("Ask for the medical clearance");
  await page.keyboard.press("h");
  await expect(guide).toContainText("must know before this person wears any respirator");
  await expect(guide).not.toContainText("Ask for the medical clearance");
  await reach(page, "#ask-hint");
  await page.keyboard.press("Enter");
  await expect(guide).toContainText("Ask for the medical clearance");
  await expect(guide).toContainText("1910.134(e)(1)");
  await page.reload();
  await expect(page.locator(".guide")).toContainText("Ask for the medical clearance");
  await clean(page, "a hint");
  await page.click("#act-ask-clearance-");
  await expect(page.locator(".guide")).not.toContainText("Ask for the medical clearance");
  await finish(page);
  await expect(page.locator(".helped li")).toHaveCount(2);
  await expect(page.locator("table", { hasText: "Skill" })).toContainText("less 1 for help");
  await clean(page, "the review with help");
});

test("each kind of help says which keys work in it", async ({ page }) => {
  for (const [help, says] of [
    ["guided", "The S key squeezes; N goes to what is next by the book"],
    ["on-request", "The S key squeezes; H asks for help; N goes to the act that was shown"],
    ["unaided", "The S key squeezes"],
  ]) {
    await begin(page, "grinding-shop", help);
    await expect(page.locator("label", { has: page.locator("#shortcut") })).toHaveText(says);
  }
  await begin(page, "grinding-shop", "on-request");
  await page.keyboard.press("h");
  await page.keyboard.press("h");
  await expect(page.locator(".guide")).toContainText("Ask for the medical clearance");
  await page.keyboard.press("n");
  await expect(page.locator("#guide-act")).toBeFocused();
});

test("what goes on in time has a way back at its foot, and nothing else has two", async ({ page }) => {
  const back = page.locator('.foot a[href="#/"]');
  await begin(page, "grinding-shop");
  await expect(back).toHaveCount(1);
  for (const [address, ways] of [["#/wearer", 1], ["#/drills", 0], ["#/about", 0]] as const) {
    await page.goto(`./${address}`);
    await expect(page.locator("main h1")).toBeVisible();
    await expect(back).toHaveCount(ways);
  }
});

test("unaided, nobody helps", async ({ page }) => {
  await begin(page, "grinding-shop", "unaided");
  await page.keyboard.press("h");
  await expect(page.locator(".guide")).toHaveCount(0);
  await finish(page);
  await expect(page.locator(".helped")).toHaveCount(0);
});

test("after two guided runs with an act the guide asks first, unless told to show it", async ({ page }) => {
  for (let run = 0; run < 2; run++) {
    await begin(page, "grinding-shop");
    await expect(page.locator(".guide")).toContainText("Ask for the medical clearance");
    await page.click("#act-ask-clearance-");
    await finish(page);
  }
  await begin(page, "grinding-shop");
  const guide = page.locator(".guide");
  await expect(guide).toContainText("must know before this person");
  await expect(guide).not.toContainText("Ask for the medical clearance");
  await page.click("#guide-act");
  await expect(guide).toContainText("Ask for the medical clearance");
  await page.click("#always");
  await page.reload();
  await expect(page.locator(".guide")).toContainText("Ask for the medical clearance");
  await expect(page.locator("#always")).toBeChecked();
});

test("in the talking exercise the passage is there, with the sentence reached", async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 780 });
  const run = JSON.parse(golden("grinding-shop"));
  const talking = run.acts.findIndex((act: { with?: string }) => act.with === "talking");
  run.acts.length = talking + 6;
  run.events = run.events.filter((event: { after: number }) => event.after <= run.acts.length);
  await start(page);
  await open(page, JSON.stringify(run));
  const passage = page.locator(".passage");
  await expect(passage).toContainText("Bob and his mother");
  await expect(passage.locator("[aria-current]")).toHaveCount(1);
  await expect(passage).toContainText("counting back from a hundred");
  await clean(page, "the passage");
});

test("somebody not met before is drawn anew, kept whole, and can be run", async ({ page }) => {
  const titles = new Set<string>();
  for (const agent of ["sweet", "bitter", "sweet"]) {
    await start(page);
    await page.click(`#begin-unannounced-${agent}`);
    await expect(page.locator("#squeeze")).toBeVisible();
    await expect(page.locator(".room")).toHaveAttribute("data-agent", agent);
    await page.click("#act-ask-clearance-");
    await expect(page.locator(".logbook li.saw")).not.toHaveCount(0);
    const before = await logbook(page);
    titles.add(page.url());
    await page.waitForTimeout(300);
    await page.reload();
    await expect(page.locator(".logbook li.did")).toHaveCount(1);
    expect(await logbook(page)).toEqual(expect.arrayContaining(before));
  }
  expect(titles.size).toBe(3);
});

test("the review says what came up, and what was there and never looked at", async ({ page }) => {
  await begin(page, "sawmill", "unaided");
  await finish(page);
  await page.click(".met summary");
  await expect(page.locator(".met")).toContainText("was there, and never came to light");
  await clean(page, "what came up");
});
