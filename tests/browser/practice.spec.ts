// Questions and drills: answered by keyboard and by mouse, in both languages; wrong answers teach, and what was answered is kept.
import { type Page } from "@playwright/test";
import { clean } from "./axe";
import { expect, reach, start, tabbing, test } from "./conductor";

const kind = (page: Page) => page.locator(".question").getAttribute("data-kind");
const id = (page: Page) => page.locator(".question").getAttribute("data-question");

async function questions(page: Page) {
  await page.goto("./#questions");
  await expect(page.locator("#give")).toBeVisible();
}

/** From the first screen to where answers are given, by key alone. */
async function byKey(page: Page, way: string) {
  await expect(page.locator(way)).toBeVisible();
  await tabbing(page).press(way);
  await expect(page.locator("#give")).toBeVisible();
}

/** Answers the question that stands there, by key alone. */
async function answerByKey(page: Page) {
  const of = await kind(page);
  if (of === "number") {
    await reach(page, "#figure");
    await page.keyboard.type("7");
    await page.keyboard.press("Tab");
    await page.keyboard.press("ArrowDown");
    await reach(page, "#give");
  } else if (of === "order") {
    await reach(page, ".moves button >> nth=1");
    await page.keyboard.press("Enter");
    await reach(page, "#give");
  } else {
    await page.keyboard.press("1");
    await expect(page.locator("#option-0")).toBeChecked();
  }
  await page.keyboard.press("Enter");
  await expect(page.locator("#verdict")).toBeVisible();
}

/** The same by mouse. */
async function answerByMouse(page: Page) {
  const of = await kind(page);
  if (of === "number") {
    await page.fill("#figure", "7");
    await page.selectOption("#unit", { index: 1 });
  } else if (of === "order") {
    await page.locator(".moves button").nth(1).click();
  } else {
    await page.locator(".options label").first().click();
  }
  await page.click("#give");
  await expect(page.locator("#verdict")).toBeVisible();
}

for (const [language, right] of [["en", /^(✓ )?Right|Not right|Partly right/], ["es", /Correcto|No es correcto/]] as const) {
  test(`every kind of question is answered, by keyboard and by mouse, in ${language}`, async ({ page }) => {
    test.setTimeout(180_000);
    await page.goto(`./?lang=${language}`);
    await byKey(page, "#to-questions");
    const seen: Record<string, number> = {};
    const kinds = ["one", "many", "order", "number", "find"];
    for (let turn = 0; turn < 90 && kinds.some((one) => (seen[one] ?? 0) < 2); turn++) {
      const of = (await kind(page))!;
      await ((seen[of] ?? 0) % 2 === 0 ? answerByKey(page) : answerByMouse(page));
      seen[of] = (seen[of] ?? 0) + 1;
      const verdict = page.locator("#verdict");
      await expect(verdict.locator("p").first()).toHaveText(right);
      // What was wrong is explained, and where the right answer comes from is said.
      expect((await verdict.textContent())!.length).toBeGreaterThan(80);
      if (["one", "many", "find"].includes(of)) {
        const reasons = await page.locator(".options .because").allTextContents();
        expect(reasons.length).toBe(await page.locator(".options li").count());
        for (const reason of reasons) expect(reason.length).toBeGreaterThan(15);
      }
      if (seen[of] === 1) await clean(page, `a question, ${of}, ${language}`);
      await expect(page.locator("#next-question")).toBeFocused();
      await page.keyboard.press("Enter");
      await expect(page.locator("#verdict")).toHaveCount(0);
    }
    expect(Object.keys(seen).sort()).toEqual([...kinds].sort());
  });
}

test("an empty answer is refused, and nothing is lost in another language", async ({ page }) => {
  await questions(page);
  const before = await id(page);
  await page.click("#give");
  await expect(page.locator("[role=alert]")).toBeVisible();
  const ask = await page.locator("#ask").textContent();
  await page.getByRole("button", { name: "Español" }).or(page.getByRole("link", { name: "Español" })).click();
  await expect(page.locator("#ask")).not.toHaveText(ask!);
  expect(await id(page)).toBe(before);
});

test("what went wrong can be asked again, and is kept over a reload", async ({ page }) => {
  await questions(page);
  await page.selectOption("#which", "watching");
  await expect(page.locator("#question-title")).toContainText("Watching");
  let wrong: string | null = null;
  for (let turn = 0; turn < 12 && wrong === null; turn++) {
    const of = await id(page);
    await answerByMouse(page);
    if (/Not right/.test((await page.locator("#verdict p").first().textContent())!)) wrong = of;
    await page.click("#next-question");
  }
  expect(wrong).not.toBeNull();
  await page.reload();
  await expect(page.locator("#give")).toBeVisible();
  await page.selectOption("#which", "wrong");
  await expect(page.locator("#question-title")).toContainText("went wrong before");
});

test("only what is needed is fetched, each once", async ({ page }) => {
  const fetched: string[] = [];
  page.on("request", (request) => /questions/.test(request.url()) && fetched.push(new URL(request.url()).pathname));
  await start(page);
  expect(fetched).toEqual([]);
  await page.click("#to-questions");
  await expect(page.locator("#give")).toBeVisible();
  expect(fetched.filter((address) => /\/es\//.test(address))).toEqual([]);
  expect(new Set(fetched).size).toBe(fetched.length);
});

for (const language of ["en", "es"]) {
  test(`drills are named in seconds by keyboard, and by mouse, in ${language}`, async ({ page }) => {
    test.setTimeout(120_000);
    await page.goto(`./?lang=${language}`);
    await byKey(page, "#to-drills");
    const asked = new Set<string>();
    for (let turn = 0; turn < 14; turn++) {
      asked.add((await page.locator("form").getAttribute("data-asks"))!);
      if (turn % 2 === 0) {
        // Figures stand at the list that takes them, and at no other.
        await expect(page.locator(".options:has([name=named]) kbd:not(.idle)").first()).toBeVisible();
        await expect(page.locator(".options:has([name=next]) kbd:not(.idle)")).toHaveCount(0);
        await page.keyboard.press("2");
        if (await page.locator("[name=next]").count()) {
          await expect(page.locator(".options:has([name=named]) kbd:not(.idle)")).toHaveCount(0);
          await expect(page.locator(".options:has([name=next]) kbd:not(.idle)").first()).toBeVisible();
          await page.keyboard.press("1");
        }
        await reach(page, "#give");
        await page.keyboard.press("Enter");
      } else {
        await page.locator("[name=named]").nth(2).check();
        if (await page.locator("[name=next]").count()) await page.locator("[name=next]").nth(1).check();
        await page.click("#give");
      }
      await expect(page.locator("#verdict")).toBeVisible();
      // A wrong name is shown the right one, and the lines that weigh something.
      const right = page.locator('.drill-answer [data-fate="hit"], .drill-answer [data-fate="missed"]');
      await expect(right.first()).toBeVisible();
      // Each with its reason right below it.
      for (const one of await right.all()) expect((await one.locator(".because span").first().innerText()).length).toBeGreaterThan(10);
      // Where one threshold is right, and nothing else, it is told with its rule.
      const named = right.filter({ has: page.locator("[name=named]") });
      const threshold = named.filter({ has: page.locator("#named-0, #named-1, #named-2") });
      const asksThreshold = (await page.locator("[name=named]").count()) === 5;
      if (asksThreshold && (await named.count()) === 1 && (await threshold.count()) === 1) await expect(threshold).toContainText("(a)(7)-(9)");
      if (turn < 2) await clean(page, `a drill, ${language}`);
      await expect(page.locator("#next-drill")).toBeFocused();
      await page.keyboard.press("Enter");
      await expect(page.locator("#verdict")).toHaveCount(0);
    }
    expect([...asked].sort()).toEqual(["result", "threshold"]);
    await expect(page.locator("#sitting")).toContainText("14");
  });
}

test("a drill is played quickly, and its level goes down after a wrong name", async ({ page }) => {
  await page.goto("./#drills");
  const level = page.locator("#level");
  /** Answers by rote until a name is wrong, and says on which level that was. */
  const wrongName = async () => {
    for (let turn = 0; turn < 30; turn++) {
      const asked = (await page.locator("form[data-level]").getAttribute("data-level"))!;
      await expect(level).toHaveValue(asked);
      await page.locator("[name=named]").nth(1).check();
      if (await page.locator("[name=next]").count()) await page.locator("[name=next]").nth(0).check();
      await page.click("#give");
      const said = await page.locator("#verdict p").first().textContent();
      await page.click("#next-drill");
      if (said === "Not right.") return asked;
    }
    throw new Error("thirty names in a row were right");
  };
  await level.selectOption("3");
  await page.click("#play-drill");
  await expect(page.locator(".asked-scene figcaption")).toBeVisible();
  await expect(page.locator(".drill-lines .now")).toHaveCount(1);
  await expect(level).toHaveValue(String(Number(await wrongName()) - 1));
  // Down to a level that was chosen by hand before, which a list remembers.
  await level.selectOption("4");
  await expect(level).toHaveValue(String(Number(await wrongName()) - 1));
});

for (const width of [360, 320]) {
  test(`questions and drills fit ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 740 });
    for (const language of ["en", "es"]) {
      await page.goto(`./?lang=${language}#questions`);
      await expect(page.locator("#give")).toBeVisible();
      await clean(page, `questions, ${language}, ${width} px`);
      await page.goto(`./?lang=${language}#drills`);
      await expect(page.locator("#give")).toBeVisible();
      await clean(page, `drills, ${language}, ${width} px`);
    }
  });
}
