// The words of the site in English, for whoever goes by what things are called.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";

export type Named = string | RegExp;

const site = process.env.DIST!;

/** Everything that lies in English in these folders of the site, by its key. */
function all<Text>(folders: string[], files: RegExp): Record<string, Text> {
  const paths = folders.flatMap((folder) => readdirSync(join(site, folder)).filter((name) => files.test(name)).map((name) => join(site, folder, name)));
  return Object.assign({}, ...paths.map((path) => JSON.parse(readFileSync(path, "utf8"))));
}
const words = all<string>(["words", "more"], /^en-\w+\.json$/);
const questions = all<{ ask: string }>([join("questions", "en")], /\.json$/);

/** The text under a key, with this filled in. */
export function word(key: string, filled: Record<string, number | string> = {}) {
  if (!words[key]) throw new Error(`there is no text “${key}”`);
  return words[key].replace(/\{(\w+)\}/g, (hole, name) => String(filled[name] ?? hole));
}

/** What begins with a text, whatever is filled into it; in small letters or large ones, which is the style's affair. */
const begins = (text: string) => new RegExp(`^${text.replace(/[.*+?^$()|[\]\\]/g, "\\$&").replace(/\{\w+\}/g, ".+")}`, "i");
export const said = (key: string, filled: Record<string, number | string> = {}) => begins(word(key, filled));

/** What a question asks. */
export const ask = (id: string) => begins(questions[id].ask);
