// Access: axe on every screen, no sideways scrolling, focus kept, one live region.
import { clean } from "./axe";
import { begin, cut, expect, golden, logbook, open, reach, spoilt, start, test } from "./conductor";

const PHASES = ["Who and what", "Solutions and equipment", "Briefing", "Taste screening", "Facepiece", "Fit test", "Result", "Afterward"];

// The narrowest is looked at once: what fits does not hang on the colours.
const LOOKS = [["light", 1280], ["light", 360], ["light", 320], ["dark", 1280], ["dark", 360]] as const;

for (const [scheme, width] of LOOKS) {
  test(`axe finds nothing, ${scheme}, ${width} px`, async ({ page }) => {
    test.setTimeout(120_000);
    await page.emulateMedia({ colorScheme: scheme });
    await page.setViewportSize({ width, height: 800 });
    await start(page);
    await open(page, "{}");
    await expect(page.getByRole("alert")).toContainText("not opened");
    await clean(page, "the start, with a bad file");
    await page.goto("#/about");
    await clean(page, "what this is");
    await page.goto("#/x/y");
    await clean(page, "nowhere");
    await begin(page, "tunnel-crew", width === 360 ? "unaided" : "guided");
    for (const phase of PHASES) {
      await page.click(`.phases button:has-text("${phase}")`);
      if (phase === "Taste screening") {
        await page.click("#act-hood-on-");
        await page.click("#act-take-check");
        await page.click("#squeeze");
      }
      await clean(page, phase);
    }
    await page.click(".mark");
    await clean(page, "the start, with a run kept");
    await open(page, spoilt("paint-line"));
    await expect(page.locator(".finding").first()).toBeVisible();
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
    await clean(page, "the review, unfolded");
    await page.goto(page.url().replace("review", "run"));
    await expect(page.locator("#to-review")).toBeVisible();
    await clean(page, "a run that has ended");
  });
}

test("the focus is never lost, and there is one live region", async ({ page }) => {
  const kept = async (after: string) => {
    // A screen that takes long to draw takes the focus when it is drawn: lost is what stays lost.
    const lost = () => page.evaluate(() => document.activeElement === document.body);
    await expect.poll(lost, { message: `lost after ${after}`, timeout: 3_000 }).toBe(false);
  };
  const press = async (selector: string, key = "Enter") => {
    await reach(page, selector);
    await page.keyboard.press(key);
    await kept(selector);
  };
  await start(page);
  await press("#begin-grinding-shop");
  await press("#act-ask-clearance-");
  await press('.phases button:has-text("Taste screening")');
  await press("#act-hood-on-");
  await press(".pace button");
  await press(".pace button");
  await press(".described summary");
  await press("#stop");
  // What cannot be is said by the one live region.
  await press("#act-put-down-");
  await expect(page.getByRole("status")).toHaveCount(1);
  await expect(page.getByRole("status")).toHaveAttribute("aria-live", "polite");
  await expect(page.getByRole("status")).not.toBeEmpty();
  await expect(page.locator("svg[role=img]")).toHaveAccessibleName(/The wearer stands/);
  const lines = await logbook(page);
  await press('.phases button:has-text("Afterward")');
  await press("#act-finish-");
  await press("#to-review");
  await expect(page.locator("#heading")).toBeFocused();
  await press("#again");
  await expect(page.locator("#squeeze")).toBeVisible();
  await press(".top .mark");
  // Two runs are kept; one is gone back to, the other forgotten.
  await expect(page.locator(".kept li")).toHaveCount(2);
  await press(".kept li:last-child a");
  await expect(page.locator(".review")).toBeVisible();
  await kept("going back to a kept run");
  expect(lines.length).toBeGreaterThan(3);
  await press(".top .mark");
  await expect(page.locator(".kept li")).toHaveCount(2);
  // What cannot be undone is asked for twice.
  await press(".kept li:last-child button");
  await expect(page.locator(".home [role=status]")).toContainText("once more");
  await press(".kept li:last-child button");
  await expect(page.locator(".kept li")).toHaveCount(1);
  await press(".kept li button");
  await press(".kept li button");
  await expect(page.locator(".kept")).toHaveCount(0);
  await kept("forgetting the last run");
});

for (const scheme of ["light", "dark"] as const) {
  test(`what can be ticked or chosen has an edge that stands out, ${scheme}`, async ({ page }) => {
    await page.emulateMedia({ colorScheme: scheme });
    await page.goto("./#/questions");
    await expect(page.locator("#give")).toBeVisible();
    // Of an input of either kind, as any screen has it.
    const edges = await page.evaluate(() => {
      const light = (colour: string) => {
        const [red, green, blue] = colour.match(/[\d.]+/g)!.slice(0, 3).map((part) => {
          const share = Number(part) / 255;
          return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
        });
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
      };
      const contrast = (one: string, other: string) => {
        const [low, high] = [light(one), light(other)].sort((a, b) => a - b);
        return (high + 0.05) / (low + 0.05);
      };
      const paper = getComputedStyle(document.documentElement).backgroundColor;
      return ["checkbox", "radio"].map((type) => {
        const input = Object.assign(document.createElement("input"), { type });
        document.querySelector("main")!.append(input);
        const style = getComputedStyle(input);
        const edge = Math.min(contrast(style.borderTopColor, paper), contrast(style.borderTopColor, style.backgroundColor));
        const seen = { type, edge, width: parseFloat(style.borderTopWidth) };
        input.remove();
        return seen;
      });
    });
    for (const { type, edge, width } of edges) {
      expect(edge, type).toBeGreaterThanOrEqual(3);
      expect(width, type).toBeGreaterThanOrEqual(2);
    }
  });
}

test("while the wearer reads aloud, both the wearer and what is read are there to be seen", async ({ page }) => {
  const { acts } = JSON.parse(golden("grinding-shop"));
  const talking = acts.findIndex(({ act, with: what }: Record<string, string>) => act === "begin" && what === "talking") + 1;
  expect(talking).toBeGreaterThan(0);
  await start(page);
  await open(page, cut("grinding-shop", talking));
  await expect(page.locator(".passage")).toBeVisible();
  for (const width of [360, 768, 1280, 1920]) {
    await page.setViewportSize({ width, height: 900 });
    await page.evaluate(() => scrollTo(0, 0));
    const [wearer, passage] = await Promise.all([".scene", ".passage"].map(async (one) => (await page.locator(one).first().boundingBox())!));
    expect(Math.min(wearer.width, wearer.height), `${width} px: the wearer`).toBeGreaterThan(150);
    expect(passage.height, `${width} px: the passage`).toBeGreaterThan(40);
    expect(wearer.y + wearer.height, `${width} px: the wearer above the passage`).toBeLessThanOrEqual(passage.y + 1);
  }
});
