// A candidate in an assessment, by whatever hand or by ear: sets the terms, makes the runs, names and answers what is asked. They
// go by what things are and what they are called. What is right in it was worked out by the engine (tests/checks/assessed.rs).
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Page } from "@playwright/test";
import { type Hand, expect } from "./conductor";
import { type Named, ask, said, word } from "./words";

export type Done = [string, string];
export const kept: { number: number; quiet: number; runs: Done[][]; spoilt: Done[]; drills: { named: number; next: number | null }[]; questions: { id: string; places: number[] }[] } =
  JSON.parse(readFileSync(join(__dirname, "assessed.json"), "utf8"));

/** Whoever sits one. A thing is known by its role, its name, the name of the group in which it stands, and its place among its like. */
export interface Candidate {
  /** How many such things there are just now. */
  count(role: string, name: Named, group?: Named): Promise<number>;
  /** Waits until there is one. */
  find(role: string, name: Named, group?: Named): Promise<unknown>;
  /** Waits until the focus is on it. */
  stands(role: string, name: Named): Promise<void>;
  /** Waits until it is there to be read. */
  reads(text: Named): Promise<void>;
  press(role: string, name: Named, group?: Named, place?: number): Promise<void>;
  tick(role: string, name: Named, group?: Named, place?: number): Promise<void>;
  choose(list: Named, wanted: string): Promise<void>;
  write(field: Named, text: string): Promise<void>;
  squeeze(): Promise<void>;
}

/** Somebody who sees the page, with this hand. */
export function seen(page: Page, hand: Hand): Candidate {
  const called = (role: string, name: Named) => `role=${role}[name=${typeof name === "string" ? JSON.stringify(name) : name}]`;
  const at = (role: string, name: Named, group?: Named, place?: number) =>
    [group && called("group", group), called(role, name), place !== undefined && `nth=${place}`].filter(Boolean).join(" >> ");
  return {
    count: (...thing) => page.locator(at(...thing)).count(),
    find: (...thing) => expect(page.locator(at(...thing))).toBeVisible(),
    stands: (...thing) => expect(page.locator(at(...thing)).and(page.locator(":focus"))).toBeVisible(),
    reads: (text) => expect(page.getByText(text, { exact: true }).first()).toBeVisible(),
    press: (...thing) => hand.press(at(...thing)),
    tick: (...thing) => hand.tick(at(...thing)),
    choose: (list, wanted) => hand.choose(at("combobox", list), wanted),
    write: (field, text) => hand.write(at("textbox", field), text),
    squeeze: () => hand.squeeze(),
  };
}

/** From the first screen: sets the terms and begins. */
export async function sit(who: Candidate, pace = "stepped", limit = "off") {
  await who.press("link", said("ui.home.assess"));
  await who.stands("heading", word("ui.assess.title"));
  await who.choose(word("ui.home.pace"), word(`pace.${pace}`));
  await who.choose(word("ui.assess.limit"), word(`assess-limit.${limit}`));
  await who.write(word("ui.assess.number"), String(kept.number));
  await who.press("button", word("ui.assess.begin"));
  await who.find("button", word("ui.assess.run-begin"));
}

/** Opens one part of the test after the other, until what is looked for lies there. */
async function look(who: Candidate, role: string, name: Named) {
  const parts = word("ui.bench.phases");
  for (let part = 0; (await who.count(role, name)) === 0; part++) {
    await who.press("button", /./, parts, part);
  }
}

/** Does an act at the bench. */
async function act(who: Candidate, [code, given]: Done) {
  if (code === "squeeze") return who.squeeze();
  if (code === "wait") {
    const seconds = Number(given) / 1000;
    await who.choose(word("ui.bench.wait"), `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`);
    return who.press("button", word("ui.bench.wait-button"));
  }
  if (code === "note") {
    await who.choose(word("ui.bench.note"), word(`act.note.${given}`));
    return who.press("button", word("ui.bench.note-button"));
  }
  if (code === "record") {
    await look(who, "button", word("ui.record.button"));
    for (const field of given.split(",")) await who.tick("checkbox", said(`field.${field}`), word("ui.group.record"));
    return who.press("button", word("ui.record.button"));
  }
  // Facepieces are known by their place on the rack.
  const [name, place] = code === "hand-over" ? [said("act.hand-over"), Number(given) - 1] : [word(["act", code, ...given.split(":")].filter(Boolean).join("."))];
  await look(who, "button", name);
  await who.press("button", name, undefined, place);
}

export async function run(who: Candidate, acts: Done[]) {
  await who.press("button", word("ui.assess.run-begin"));
  await who.find("button", word("act.squeeze"));
  await who.reads(word("ui.assess.one-run"));
  // Neither help, nor a way to stop the clock or to change its pace.
  for (const help of ["ui.guide.show", "ui.hint.think", "ui.clock.halt"]) expect(await who.count("button", word(help)), help).toBe(0);
  expect(await who.count("combobox", word("ui.clock.pace"))).toBe(0);
  for (const one of acts) await act(who, one);
  await who.stands("link", word("ui.assess.back"));
  await who.press("link", word("ui.assess.back"));
}

/** Gives an answer: nothing is said of it before the end, and what comes next has the focus. */
async function give(who: Candidate) {
  await who.press("button", word("ui.question.give"));
  await who.stands("heading", /./);
  for (const verdict of ["ui.drill.next", "ui.question.next"]) expect(await who.count("button", word(verdict)), verdict).toBe(0);
}

export async function drills(who: Candidate) {
  await who.press("button", word("ui.assess.asked-begin"));
  await who.stands("heading", /./);
  for (const [place, { named, next }] of kept.drills.entries()) {
    await who.reads(word("ui.assess.drill", { place: place + 1, of: kept.drills.length }));
    await who.tick("radio", /./, said("ui.drill.name"), named);
    if (next !== null) await who.tick("radio", /./, said("ui.drill.then"), next);
    await give(who);
  }
}

export async function questions(who: Candidate) {
  for (const [number, { id, places }] of kept.questions.entries()) {
    await who.reads(ask(id));
    await who.reads(word("ui.assess.question", { place: number + 1, of: kept.questions.length }));
    const role = (await who.count("radio", /./)) > 0 ? "radio" : "checkbox";
    for (const place of places) await who.tick(role, /./, undefined, place);
    await give(who);
  }
}

/** Does all of it, as the engine did. */
export async function answer(who: Candidate) {
  for (const [place, acts] of kept.runs.entries()) {
    await who.reads(word("ui.assess.run", { place: place + 1, of: kept.runs.length }));
    await run(who, acts);
  }
  await drills(who);
  await questions(who);
}

/** Ends it before everything is done. */
export async function close(who: Candidate) {
  await who.press("button", word("ui.assess.close"));
  await who.stands("button", word("ui.assess.close-not"));
  await who.press("button", word("ui.assess.close"));
  await result(who, false);
}

/** It is over, and says whether it was passed. */
export async function result(who: Candidate, passed: boolean) {
  await who.stands("heading", said("ui.assess.one"));
  await who.reads(word(passed ? "ui.assess.passed" : "ui.assess.not-passed"));
}

/** From the result of one that was passed: it stays on the list, and what was done in it stands in the progress and on the record. */
export async function stays(who: Candidate) {
  await who.press("link", word("ui.assess.title"));
  await who.find("link", new RegExp(`^${word("ui.assess.see")}: ${said("ui.assess.one", { number: kept.number }).source.slice(1)}`));
  await who.reads(word("ui.assess.passed"));
  await who.press("link", word("ui.nav.home"));
  await who.press("link", said("ui.home.progress"));
  await who.stands("heading", word("ui.progress.title"));
  await who.reads(word("ui.runs.count", { runs: kept.runs.length, assessments: 1, answers: kept.drills.length + kept.questions.length }));
  await who.press("link", word("ui.progress.record"));
  await who.stands("heading", word("ui.paper.title"));
  const [runs, asked] = [kept.runs.length, kept.drills.length + kept.questions.length];
  await who.reads(word("ui.paper.assessments"));
  await who.reads(`${word("help.unaided")}, ${word("ui.runs.set")}`);
  await who.reads(word("ui.paper.latest-of", { shown: runs, all: runs }));
  await who.reads(word("ui.paper.answers-right", { all: asked, right: asked }));
}
