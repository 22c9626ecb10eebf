// Languages: how one is chosen, that a change loses nothing, that Spanish fits and is accessible on every screen, and that
// no screen shows a text that is not translated.
import { readFileSync } from "node:fs";
import { type Page, test as bare } from "@playwright/test";
import { clean } from "./axe";
import { begin, expect, logbook, open, reach, seconds, spoilt, start, test } from "./conductor";
import { walk } from "./walk";

/** The languages whose words were asked for. */
function asked(page: Page) {
  const tags: string[] = [];
  page.on("request", (request) => {
    const [, tag] = /\/words\/(.+)-[0-9a-f]{16}\.json$/.exec(request.url()) ?? [];
    if (tag && !tags.includes(tag)) tags.push(tag);
  });
  return tags;
}

const speaks = async (page: Page, tag: "en" | "es") => {
  await expect(page.locator("html")).toHaveAttribute("lang", tag);
  await expect(page.locator(".top nav a")).toHaveText(tag === "es" ? "Qué es esto" : "What this is");
};

test.describe("chosen", () => {
  test("by the address, and the other language is not fetched", async ({ page }) => {
    const tags = asked(page);
    await page.goto("?lang=es");
    await speaks(page, "es");
    await expect(page).toHaveTitle("Bittersweet: practique la prueba de sabor con capucha");
    await page.click(".top nav a");
    await expect(page.locator("#heading")).toHaveText("Qué es esto y qué no es");
    expect(tags).toEqual(["es"]);
  });

  test("by the switch, which is kept; the address goes before it", async ({ page }) => {
    const tags = asked(page);
    await start(page);
    await speaks(page, "en");
    expect(tags).toEqual(["en"]);
    await page.getByRole("button", { name: "Español" }).click();
    await speaks(page, "es");
    expect(tags).toEqual(["en", "es"]);
    await page.reload();
    await speaks(page, "es");
    await page.goto("?lang=en");
    await speaks(page, "en");
    // For this visit only: nothing was chosen.
    await page.goto(".");
    await speaks(page, "es");
  });

  test("against the address, which then asks for what was chosen", async ({ page }) => {
    await page.goto("?lang=es&from=course#/about");
    await page.getByRole("button", { name: "English" }).click();
    await speaks(page, "en");
    const address = new URL(page.url());
    expect([address.search, address.hash]).toEqual(["?lang=en&from=course", "#/about"]);
    await page.reload();
    await speaks(page, "en");
  });

  test("not by an address that asks for what there is not", async ({ page }) => {
    await page.goto("?lang=xx");
    await speaks(page, "en");
  });
});

for (const [locale, tag] of [["es-MX", "es"], ["es", "es"], ["fr-CA", "en"]] as const) {
  test.describe(`a browser that asks for ${locale}`, () => {
    test.use({ locale });
    test(`is spoken to in ${tag}, from the first paint`, async ({ page }) => {
      let release = () => {};
      const held = new Promise<void>((done) => (release = done));
      await page.route("**/*.wasm", async (route) => {
        await held;
        await route.continue();
      });
      await page.goto(".", { waitUntil: "commit" });
      await expect(page.getByRole("status")).toHaveText(tag === "es" ? "Iniciando …" : "Starting …");
      await expect(page.locator("main p").first()).toContainText(tag === "es" ? "desde la autorización médica" : "from clearance to record");
      await expect(page.locator("html")).toHaveAttribute("lang", tag);
      release();
      await speaks(page, tag);
    });
  });
}

test.describe("the first frame", () => {
  test.use({ locale: "es-CO" });
  test("is never in another language", async ({ page }) => {
    // What stands there whenever something is painted, from the first paint on.
    await page.addInitScript(() => {
      const seen: string[] = ((window as any).seen = []);
      const look = () => {
        const painted = performance.getEntriesByType("paint").length > 0;
        const said = document.querySelector("main p")?.textContent;
        if (painted && said) seen.push(said);
        requestAnimationFrame(look);
      };
      requestAnimationFrame(look);
    });
    await page.route("**/boot-*.js", async (route) => {
      await new Promise((done) => setTimeout(done, 400));
      await route.continue();
    });
    await page.goto(".");
    await speaks(page, "es");
    const seen: string[] = await page.evaluate(() => (window as any).seen);
    expect(seen.length).toBeGreaterThan(0);
    expect(seen.filter((said) => said.includes("test conductor"))).toEqual([]);
  });
});

test("a change in mid-run loses nothing: not the run, not the place, not the focus", async ({ page }) => {
  await begin(page, "grinding-shop", "guided", "real");
  await page.click("#act-ask-clearance-");
  await page.click('.phases button:has-text("Taste screening")');
  await page.click("#act-hood-on-");
  await page.click("#act-take-check");
  await page.click("#squeeze");
  const [lines, time] = [await logbook(page), await seconds(page)];
  const [english, spanish] = ["English", "Español"].map((name) => page.getByRole("button", { name, exact: true }));
  await expect(english).toHaveAttribute("aria-pressed", "true");
  await reach(page, '.languages [lang="es"]');
  await page.keyboard.press("Enter");
  await speaks(page, "es");
  await expect(spanish).toBeFocused();
  await expect(spanish).toHaveAttribute("aria-pressed", "true");
  await expect(english).toHaveAttribute("aria-pressed", "false");
  await expect(page).toHaveTitle("Una práctica · Bittersweet");
  await expect(page.locator('.phases [aria-pressed="true"]')).toHaveText("Prueba de umbral");
  await expect(page.locator(".logbook li").last()).toContainText("Preguntar por la autorización médica");
  const changed = await logbook(page);
  expect(changed.length).toBe(lines.length);
  expect(changed.filter((line) => lines.includes(line))).toEqual([]);
  expect(await seconds(page)).toBeGreaterThanOrEqual(time);
  await expect(page.locator("svg[role=img]")).toHaveAccessibleName(/La persona está de pie/);
  // It goes on, and is kept: loaded again, it is all there.
  await page.click("#act-put-down-");
  await expect(page.locator(".logbook li").first()).toContainText("Dejar el nebulizador");
  await page.reload();
  await expect(page.locator(".logbook li").first()).toContainText("Dejar el nebulizador");
  await page.getByRole("button", { name: "English" }).click();
  await expect(page.locator(".logbook li").first()).toContainText("Put the nebulizer down");
});

bare("words that do not arrive are said, and the page stays as it was", async ({ page }) => {
  await page.route("**/words/es-*", (route) => route.abort());
  await page.goto(".");
  await page.getByRole("button", { name: "Español" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "did not arrive" })).toBeVisible();
  await speaks(page, "en");
  await page.unroute("**/words/es-*");
  await page.getByRole("button", { name: "Español" }).click();
  await speaks(page, "es");
  await expect(page.getByRole("alert").filter({ hasText: /\S/ })).toHaveCount(0);
});

test("a date is written as the browser writes it in that language", async ({ page }) => {
  await begin(page, "bakery");
  await page.click(".mark");
  const date = page.locator(".kept .soft").first();
  const written = (locale: string) =>
    page.evaluate((locale) => new Date().toLocaleDateString(locale, { dateStyle: "medium" }), locale);
  await expect(date).toContainText(await written("en-GB"));
  await page.getByRole("button", { name: "Español" }).click();
  await expect(date).toContainText(await written("es"));
});

for (const [locale, mark] of [["es-ES", ","], ["es-MX", "."]] as const) {
  test.describe(`figures for ${locale}`, () => {
    test.use({ locale });
    test(`have ${mark} before their decimals`, async ({ page }) => {
      await start(page);
      await open(page, spoilt("paint-line"));
      await page.selectOption("#timeline-part", { index: 1 });
      await page.locator(".timeline-table > summary").click();
      const level = await page.locator(".levels tbody td:nth-child(2)").first().innerText();
      expect(level).toMatch(mark === "," ? /^\d+,\d en la capucha, / : /^\d+\.\d en la capucha, /);
    });
  });
}

test.describe("in Spanish", () => {
  test.use({ locale: "es-MX" });
  for (const [scheme, width] of [["light", 320], ["light", 360], ["light", 1280], ["dark", 360]] as const) {
    test(`axe finds nothing and all fits, ${scheme}, ${width} px`, async ({ page }) => {
      test.setTimeout(120_000);
      await page.emulateMedia({ colorScheme: scheme });
      await page.setViewportSize({ width, height: 800 });
      await walk(page, async (where) => {
        await clean(page, where);
        expect(await cut(page), `${where}: cut off`).toEqual([]);
        if (process.env.SHOTS && scheme === "light") {
          await page.screenshot({ path: `${process.env.SHOTS}/${where} ${width}.png`, fullPage: true });
        }
      });
    });
  }
});

/** Controls whose text is wider than they are. */
const cut = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll("button, .way, summary, label, th, td, h1, h2, h3")]
      .filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 1 && getComputedStyle(one).display !== "inline")
      .map((one) => one.textContent),
  );

/** What is shown or said in letters of English: what came from no language file. */
const untranslated = (page: Page) =>
  page.evaluate(() => {
    // A citation's numbers (`I.B.3(a)(iv)`, `B-1`), a model's letter; and the hash of a rulebook.
    const hash = /\b[0-9a-f]{16}\b/g;
    const date = /\b(\d{1,2} )?[A-Z][a-z]{2,8} \d{4}\b/g;
    const isNumber = (word: string) => word.length === 1 || /^[IVX]+$/i.test(word);
    const found: string[] = [];
    const look = (text: string | null, where: Element) => {
      // A file's name, those of its fields and what it said, dates, the names of languages.
      if (!text || where.closest("code, .file .soft, .faults .soft, time, [translate=no], .languages, script, style")) return;
      const words = text.replace(hash, "").replace(date, "").match(/[A-Za-z]+/g)?.filter((word) => !isNumber(word)) ?? [];
      if (words.length > 0) found.push(`${where.localName}: ${text}`);
    };
    look(document.title, document.body);
    const nodes = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = nodes.nextNode(); node; node = nodes.nextNode()) look(node.textContent, node.parentElement!);
    for (const element of document.querySelectorAll("[aria-label], [title], [placeholder], [alt], [label]")) {
      for (const name of ["aria-label", "title", "placeholder", "alt", "label"]) look(element.getAttribute(name), element);
    }
    return found;
  });

test("under the pseudo-language no screen shows a text that is not translated", async ({ page }) => {
  test.setTimeout(120_000);
  const words = readFileSync(process.env.PSEUDO!, "utf8");
  await page.route("**/words/en-*", (route) => route.fulfill({ contentType: "application/json", body: words }));
  await walk(page, async (where) => {
    // The questions themselves are the English ones.
    if (!where.startsWith("question")) expect(await untranslated(page), where).toEqual([]);
    const sideways = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(sideways, `${where}: wider than the window`).toBeLessThanOrEqual(0);
  });
});

test("the walk under the pseudo-language would find an English text", async ({ page }) => {
  await start(page);
  expect((await untranslated(page)).length).toBeGreaterThan(20);
});
