// What was practised before, put into the store as the page itself keeps it.
import { type Page } from "@playwright/test";
import { stores } from "./store";

export const today = () => Math.floor((Date.now() - new Date().getTimezoneOffset() * 60_000) / 86_400_000);

const SKILLS = ["solutions", "eligibility", "briefing", "facepiece", "screening", "running", "watching", "result"];
const GRAVE = ["stubble", "swapped", "adjusts-mask", "chest-pain", "tells-late", "no-clearance"];

export interface Ended {
  run: string;
  scenario?: string;
  day: number;
  agent?: "sweet" | "bitter";
  help?: "guided" | "on-request" | "unaided";
  real?: boolean;
  /** What came up: its kind or rule, and whether it was met well. */
  events?: [string, boolean][];
  /** How often each skill's rules came up and were kept. */
  kept?: [number, number];
  /** The gravest finding that stands. */
  gravest?: [string, string];
}

/** An outcome as it is written. */
export function outcome({ run, scenario = "unannounced", day, agent = "sweet", help = "unaided", real = true, events = [], kept = [9, 10], gravest }: Ended) {
  const count = (harmless: boolean, well: boolean) => events.filter(([kind, so]) => (kind === "coughs") === harmless && so === well).length;
  return JSON.stringify({
    v: 1, run, scenario, day, minutes: 34, engine: 2, book: "us", rules: 1, agent, help, hints: 0, real_pace: real,
    whole: true, given: 1, right: gravest ? 0 : 1, ...(gravest && { gravest: gravest[0], gravity: gravest[1] }),
    caught: count(false, true), missed: count(false, false), let_pass: count(true, true), over_called: count(true, false),
    skills: SKILLS.map(() => kept), events,
  });
}

/** An answer as it is written. */
export const answer = (id: string, skill: string, day: number, right: boolean, agent = "sweet") =>
  JSON.stringify({ v: 1, asked: "question", id, revision: 1, skill, agent, got: right ? 1 : 0, of: 1, day });

/** Five whole runs on the five days that end on `day`, with just enough caught and let pass. */
export const enough = (day: number, agent: "sweet" | "bitter" = "sweet"): Ended[] =>
  [0, 1, 2, 3, 4].map((run) => {
    const of = (all: number) => Array.from({ length: all }, (_, event) => event).filter((event) => event % 5 === run);
    const grave = of(11).map((event): [string, boolean] => [GRAVE[event % 6], true]);
    return { run: `run-${agent}-${run}`, day: day - 4 + run, agent, events: [...grave, ...of(8).map((): [string, boolean] => ["coughs", true])] };
  });

/** So many runs and as many answers, over two years, with both agents; every kind of thing in them. */
export function many(number: number, day: number) {
  const outcomes = Array.from({ length: number }, (_, n): Ended => ({
    run: `run-${String(n).padStart(6, "0")}`,
    scenario: n % 3 ? "unannounced" : "bakery",
    day: day - Math.floor(((number - 1 - n) * 730) / number),
    agent: n % 2 ? "bitter" : "sweet",
    help: n % 5 ? "unaided" : "guided",
    real: n % 7 !== 0,
    kept: [7 + (n % 4), 10],
    events: Array.from({ length: 6 }, (_, event) => [event % 3 ? GRAVE[(n + event) % 6] : "coughs", (n + event) % 9 !== 0]),
    ...(n % 11 === 0 && { gravest: ["fit.top_up", "spoils"] as [string, string] }),
  }));
  return outcomes.map(outcome);
}

/** The same of answers, to the questions whose ids are given by skill. */
export const manyAnswers = (number: number, day: number, ids: [string, string][]) =>
  Array.from({ length: number }, (_, n) => {
    const [skill, id] = ids[n % ids.length];
    return answer(id, skill, day - Math.floor(((number - 1 - n) * 730) / number), n % 4 !== 0, n % 2 ? "bitter" : "sweet");
  });

/** Keeps them, where the page keeps them; it has to be open, so that the stores are there. */
export async function keep(page: Page, outcomes: string[], answers: string[]) {
  const opened = await stores(page);
  await opened.evaluate(
    async ([database, ...others], [outcomes, answers]) => {
      await new Promise((done, failed) => {
        const writing = database.transaction(["outcomes", "answers"], "readwrite");
        for (const json of outcomes) writing.objectStore("outcomes").put({ id: JSON.parse(json).run, json });
        for (const json of answers) writing.objectStore("answers").add({ json });
        writing.oncomplete = done;
        writing.onerror = () => failed(writing.error);
      });
      for (const one of [database, ...others]) one.close();
    },
    [outcomes, answers] as const,
  );
}
