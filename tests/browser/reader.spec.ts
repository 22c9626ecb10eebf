// By ear alone: a rehearsal, a drill and an assessment, decided by what the accessibility tree says and by what is announced.
import { drills, kept, questions, result, run, sit, stays } from "./candidate";
import { expect, test } from "./conductor";
import { type Heard, Reader } from "./reader";

test.describe.configure({ timeout: 120_000 });

const inside = (one: Heard, role: string, name: RegExp | string) => one.within.some((around) => around.role === role && (typeof name === "string" ? around.name === name : name.test(around.name)));
const logbook = (all: Heard[]) => all.filter((one) => one.role === "listitem" && one.within[0]?.name === "Logbook").map((line) => all.filter((one) => one.role === "StaticText" && one.within.includes(line)).map(({ name }) => name));

/** Everything that the logbook gained but the act itself was announced. */
function told(before: string[][], after: string[][], announced: string[], act: string) {
  const said = announced.join(" ");
  for (const [, text] of after.slice(0, after.length - before.length)) {
    if (!text.startsWith(act) && !/^(Let .* pass|Squeeze|Record: )/.test(text)) expect(said, `after “${act}”`).toContain(text);
  }
}

/** One who holds what is announced, by one region and politely, against what came into the logbook. */
class Listener extends Reader {
  protected async enter(found: Heard) {
    const before = logbook(await this.read());
    const heard = this.announced.length;
    await super.enter(found);
    const after = logbook(await this.read());
    told(before, after, this.announced.slice(heard), found.name);
    if (after.length > 0) expect(this.live.map(({ politeness }) => politeness)).toEqual(["polite"]);
  }
}

async function open(reader: Reader, address: (url: string) => Promise<unknown>) {
  await address(".");
  await reader.find("heading", "Run a fit test before you run one on a worker");
  // Where what is: by landmarks. The heading stands before them.
  const wanted = ["banner", "main", "navigation", "contentinfo"];
  await expect.poll(async () => (await reader.read()).map(({ role }) => role)).toEqual(expect.arrayContaining(wanted));
}

test("a whole test, led by the guide", async ({ page }) => {
  const reader = await Reader.of(page);
  await open(reader, (url) => page.goto(url));
  await reader.choose("Help", "Guided");
  await reader.choose("Pace", "Step by step");
  await reader.press("button", /^Ines, from the grinding shop/);
  expect((await reader.find("heading", /^Ines/)).state.level).toBe(1);
  await expect.poll(async () => (await reader.focused()).role).toBe("heading");
  let asked = 0;
  for (let steps = 0; steps < 400; steps++) {
    const all = await reader.read();
    if (all.some(({ role, name }) => role === "link" && name === "See the review")) break;
    // One region alone announces, politely.
    expect(reader.live.map(({ politeness }) => politeness)).toEqual(["polite"]);
    const guide = all.filter((one) => inside(one, "region", "Next, by the book"));
    const [act] = guide.filter(({ role, within }) => role === "StaticText" && !within.some(({ role }) => role === "heading" || role === "button")).map(({ name }) => name);
    const [button] = guide.filter(({ role }) => role === "button");
    expect(act && button, "the guide says what is next").toBeTruthy();
    const before = logbook(all);
    reader.announced.length = 0;
    if (button.name !== "Show me where") {
      expect(button.name).toMatch(/^Let .* pass$/);
      await reader.press("button", button.name, "Next, by the book");
    } else if (act === "Squeeze") {
      await reader.press("button", "Squeeze");
    } else {
      expect(button.description, "what it shows is said with it").toBe(act);
      await reader.press("button", button.name, "Next, by the book");
      const there = await reader.focused();
      const record = there.name === "Write the record";
      // Under its heading the guide does not say once more that it comes next.
      const named = there.name.replace(/^Next: /, "").toLowerCase().startsWith(act.toLowerCase());
      expect(record || named, `shown “${there.name}” for “${act}”`).toBe(true);
      // Where it lies is heard too.
      expect(there.within.some(({ role, name }) => ["region", "group"].includes(role) && name !== "")).toBe(true);
      if (record) {
        for (const field of ["Who was tested", "Which test", "Which facepiece", "When", "The result"]) {
          const box = await reader.find("checkbox", field, /^Make the record/);
          if (box.state.checked !== "true") await reader.press("checkbox", field, /^Make the record/);
        }
        await reader.go(there);
      }
      await page.keyboard.press("Enter");
    }
    const after = logbook(await reader.read());
    told(before, after, reader.announced, act);
    asked += reader.announced.length;
  }
  expect(asked, "what the wearer does and says is announced").toBeGreaterThan(20);
  expect((await reader.focused()).name).toBe("See the review");
  await page.keyboard.press("Enter");
  await reader.find("heading", /^Review: /);
  await expect.poll(async () => (await reader.focused()).name).toMatch(/^Review: /);
  const cells = (await reader.read()).filter((one) => one.role === "cell" && one.within.some(({ name }) => name === "The result"));
  expect(cells.map(({ name }) => name)).toContain("pass");
  expect((await reader.all("columnheader", /./, "The result")).length).toBe(4);
});

test("time is there to be asked for, and is not announced", async ({ page }) => {
  const reader = await Reader.of(page);
  await open(reader, (url) => page.goto(url));
  await reader.choose("Help", "Unaided");
  await reader.press("button", /^Ines, from the grinding shop/);
  const clock = async () => (await reader.find("timer", "Clock")).within.length && (await reader.read()).filter((one) => one.role === "StaticText" && inside(one, "timer", "Clock"))[0].name;
  await reader.find("button", "Squeeze");
  const begun = await clock();
  reader.announced.length = 0;
  await expect.poll(clock, { timeout: 5_000 }).not.toBe(begun);
  await page.waitForTimeout(1_500);
  await reader.read();
  expect(reader.announced).toEqual([]);
  // The same answer given again is said again, and so is the same refusal.
  await reader.press("button", "Ask for the medical clearance");
  await reader.press("button", "Ask for the medical clearance");
  await reader.read();
  expect(reader.announced).toHaveLength(2);
  expect((await reader.find("button", "Squeeze")).state.disabled).toBe(true);
  const squeeze = await reader.find("button", "Squeeze");
  for (let turn = 3; turn < 5; turn++) {
    await reader.go(squeeze);
    await page.keyboard.press("Enter");
    await reader.read();
    expect(reader.announced).toHaveLength(turn);
  }
  expect((await reader.find("button", "Who and what", "Part of the test")).state.pressed).toBe("true");
});

test("a drill is named, and what was forgotten is tied to where it belongs", async ({ page }) => {
  const reader = await Reader.of(page);
  await open(reader, (url) => page.goto(url));
  await reader.press("link", /^Name the result/);
  await reader.find("heading", "Name the result");
  for (let turn = 0; turn < 3; turn++) {
    reader.announced.length = 0;
    await reader.press("button", "Answer");
    await reader.read();
    expect(reader.announced).toEqual(["Not everything has been named yet."]);
    const groups = await reader.all("group", /./);
    const choices = groups.filter(({ name }) => /^(What did it come to|And what comes next)/.test(name));
    expect(choices.map(({ description }) => description)).toEqual(choices.map(() => "Not everything has been named yet."));
    for (const { name } of choices) {
      const [, second] = await reader.all("radio", /./, name);
      await reader.press("radio", second.name, name);
      expect((await reader.find("radio", second.name, name)).state.checked).toBe("true");
    }
    await reader.press("button", "Answer");
    await expect.poll(async () => (await reader.focused()).name).toBe("Next drill");
    // Whoever is there hears at once what the answer was worth.
    expect((await reader.focused()).description).toMatch(/^(Right|Not right|Rightly named)/);
    await page.keyboard.press("Enter");
    await reader.stands("heading", /./);
  }
});

test("a number that is none is refused at its field, and an assessment is not ended by mistake", async ({ page }) => {
  const reader = await Reader.of(page);
  await open(reader, (url) => page.goto(url));
  await reader.press("link", /^Take an assessment/);
  await reader.find("heading", "Assessments");
  await reader.write("Number of this assessment", "seven");
  await reader.press("button", "Begin the assessment");
  const field = await reader.focused();
  expect([field.role, field.name, field.state.invalid]).toEqual(["textbox", "Number of this assessment", "true"]);
  expect(field.description).toContain("Six digits at most");
  await reader.write("Number of this assessment", "7");
  await reader.press("button", "Begin the assessment");
  await reader.find("button", "Begin this run");
  reader.announced.length = 0;
  await reader.press("button", "End the assessment here");
  await reader.read();
  expect(reader.announced.join()).toContain("What was not done will count as not done");
  // Who presses once more by mistake loses nothing.
  await reader.stands("button", "Go on with it");
  await page.keyboard.press("Enter");
  await reader.stands("button", "End the assessment here");
  await page.keyboard.press("Enter");
  await reader.stands("button", "Go on with it");
  await reader.press("button", "End the assessment here");
  await reader.stands("heading", /^Assessment no. 7 · /);
  expect((await reader.focused()).description).toContain("Not passed");
  expect((await reader.all("heading")).map(({ name }) => name)).toEqual(expect.arrayContaining(["What it was not passed by", "What was counted"]));
});

test("an assessment is passed, and nothing is said of an answer before its end", async ({ page }) => {
  test.setTimeout(240_000);
  const listener = await Listener.of(page);
  await open(listener, (url) => page.goto(url));
  await sit(listener);
  for (const acts of kept.runs) await run(listener, acts);
  expect(listener.announced.length, "what the wearers do and say is announced").toBeGreaterThan(20);
  listener.announced.length = 0;
  await drills(listener);
  expect((await listener.focused()).description, "where one is, and what is asked").toMatch(/^Question 1 of 12 .*\?/);
  await questions(listener);
  await result(listener, true);
  expect(listener.announced).toEqual([]);
  // What was counted is heard in the row of what it is.
  const [row] = (await listener.find("rowheader", "Drills and questions wholly right")).within;
  const cells = (await listener.all("cell")).filter(({ within }) => within[0].handle === row.handle);
  expect(cells.map(({ name }) => name)).toEqual(["18 of 18", "82 to 100%"]);
  await page.reload();
  await result(listener, true);
  await stays(listener);
});
