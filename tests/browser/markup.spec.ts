// The Nu checker finds no error: not in what stands in the document of any screen, in either language, and not in the styles.
import { execFile } from "node:child_process";
import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Page } from "@playwright/test";
import { expect, start, test } from "./conductor";
import { walk } from "./walk";

const CHECKER = join(__dirname, "node_modules/vnu-jar/build/dist/vnu.jar");
const STYLES = join(__dirname, "../../static");

/** Properties of SVG 2 that the checker does not know. */
const UNKNOWN = ".*Property “(vector-effect|paint-order)” doesn't exist.*";

interface Message {
  url: string;
  message: string;
  extract?: string;
}

/** What the checker calls an error in these files, each with the file's name. */
async function errors(files: string[]) {
  const settings = ["-Xss8m", "-XX:TieredStopAtLevel=1", "-jar", CHECKER, "--also-check-css", "--errors-only", "--format", "json"];
  const said = await new Promise<string>((done) => {
    // It ends with 1 where it found something; what it says tells that apart from one that did not run.
    execFile("java", [...settings, "--filterpattern", UNKNOWN, ...files], { maxBuffer: 2 ** 26 }, (_, __, said) => done(said));
  });
  const { messages } = JSON.parse(said) as { messages: Message[] };
  return messages.map(({ url, message, extract }) => `${decodeURIComponent(url.split("/").pop()!)}: ${message} ${extract ?? ""}`);
}

/** A place for a file of the running test. */
function beside(name: string) {
  mkdirSync(test.info().outputPath(), { recursive: true });
  return test.info().outputPath(name);
}

const drawn = async (page: Page) => `<!doctype html>\n${await page.evaluate(() => document.documentElement.outerHTML)}`;

for (const locale of ["en-GB", "es-MX"]) {
  test.describe(locale, () => {
    test.use({ locale });
    test("neither a screen nor a style has an error of markup", async ({ page }) => {
      test.setTimeout(150_000);
      const files = readdirSync(STYLES).filter((file) => file.endsWith(".css")).map((file) => join(STYLES, file));
      await walk(page, async (where) => {
        const file = beside(`${where}.html`);
        writeFileSync(file, await drawn(page));
        files.push(file);
      });
      expect(await errors(files)).toEqual([]);
    });
  });
}

test("an error of markup or of a style would be found", async ({ page }) => {
  await start(page);
  const [html, css] = [beside("spoilt.html"), beside("spoilt.css")];
  writeFileSync(html, (await drawn(page)).replace("</h1>", '</h1><p id="heading">twice</p>'));
  writeFileSync(css, "p { colour: red; }");
  const found = await errors([html, css]);
  expect(found.map((one) => one.split(":")[0]).sort()).toEqual(["spoilt.css", "spoilt.html"]);
});
