// What is wrong is said, with its place; the page stays alive and nothing is lost.
import { begin, expect, golden, logbook, open, reach, start, test } from "./conductor";

const RUN = golden("grinding-shop");
const FILES: Record<string, [string, string]> = {
  "a damaged file": [RUN.replace('"act":"ask-clearance"', '"act":"dance"'), "acts[0].act"],
  "a foreign file": [RUN.replace("bittersweet-run", "something-else"), "format"],
  "a truncated file": [RUN.slice(0, 2_000), "line 1"],
  "a newer file": [RUN.replace('"version":1', '"version":9'), "version"],
  "no file at all": ["\u0000\u0001 not JSON", "line 1"],
  "an oversized file": [RUN + " ".repeat(1024 * 1024), "bytes"],
};

for (const [name, [text, place]] of Object.entries(FILES)) {
  test(`${name} is refused with its place`, async ({ page }) => {
    await start(page);
    await open(page, text);
    const faults = page.getByRole("alert");
    await expect(faults).toContainText("This file was not opened");
    if (place !== "bytes") await expect(faults).toContainText(place);
    // What was found there; or, where a reader of JSON stuck, its own words, folded away.
    if (place === "line 1") await expect(faults.locator("details code")).toHaveText(/line 1 column/);
    else await expect(faults.locator("li").first()).toContainText("found:");
    await expect(page.locator(".file")).toContainText("Chosen: run.json");
    // Still alive, and the next file opens.
    await open(page, RUN);
    await expect(page.locator(".review")).toBeVisible();
  });
}

test("a file is chosen and refused in the page's language, whatever the browser's and the reader's", async ({ page }) => {
  await page.goto("./?lang=es");
  await expect(page.getByLabel("Archivo de práctica Elegir un archivo")).toHaveAttribute("type", "file");
  await open(page, "{}");
  const faults = page.getByRole("alert");
  await expect(faults.locator("li")).toHaveText(/^línea 1, columna 2, format: Aquí falta algo/);
  await expect(faults.locator("details code")).toBeHidden();
  await expect(page.locator(".file")).toContainText("Elegido: run.json");
  await reach(page, ".faults details summary");
  await page.keyboard.press("Enter");
  await expect(faults.locator("details code")).toContainText("missing field");
});

for (const width of [360, 1280]) {
  test(`a key opens the choice of a file, and a hand finds it large enough, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 800 });
    await start(page);
    const box = (await page.locator(".file .way").boundingBox())!;
    expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(44);
    const field = (await page.locator("#open-file").boundingBox())!;
    expect(Math.min(field.width, field.height)).toBeGreaterThanOrEqual(40);
    // Asked for before the way there: a key and the order to catch the chooser go to the page by different roads,
    // and only an answer from the page in between says that the order has come.
    const chooser = page.waitForEvent("filechooser");
    await reach(page, "#open-file");
    await page.keyboard.press("Enter");
    await (await chooser).setFiles({ name: "run.json", mimeType: "application/json", buffer: Buffer.from(RUN) });
    await expect(page.locator(".review")).toBeVisible();
  });
}

test("markup in a file stays text", async ({ page }) => {
  const run = JSON.parse(RUN);
  run.scenario.id = "elsewhere";
  run.scenario.wearer.name = "<img src=x onerror=alert(1)>";
  await start(page);
  await open(page, JSON.stringify(run));
  await expect(page.locator("#heading")).toContainText("<img src=x onerror=alert(1)>");
});

test("a bad file does not disturb a run under way", async ({ page }) => {
  await begin(page, "grinding-shop");
  await page.click("#act-ask-clearance-");
  const before = await logbook(page);
  const address = page.url();
  await page.click(".mark");
  await open(page, "{}");
  await expect(page.getByRole("alert")).toContainText("not opened");
  await page.goto(address);
  await expect(page.locator("#squeeze")).toBeVisible();
  expect(await logbook(page)).toEqual(before);
});

for (const address of ["#/x/y", "#/run/%3Cscript%3E", "#/review/", "#/run/a/b/c"]) {
  test(`the address ${address} leads nowhere, and says so`, async ({ page }) => {
    await page.goto(address);
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("There is nothing here");
    await page.click(".way");
    await expect(page.locator("#begin-grinding-shop")).toBeVisible();
  });
}

for (const address of ["#/run/unknown", "#/review/unknown"]) {
  test(`${address} is not on this device, and says so`, async ({ page }) => {
    await page.goto(address);
    await expect(page.getByRole("status")).toContainText("not on this device");
  });
}
