// The bank of questions as the site has it.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";

/** Skill and id of every question for conductors. */
export function questions(): [string, string][] {
  const folder = join(process.env.DIST!, "questions");
  const files = readdirSync(folder).filter((file) => file.endsWith(".json") && !file.startsWith("wearer"));
  return files.flatMap((file) =>
    [...readFileSync(join(folder, file), "utf8").matchAll(/"id":"([^"]+)"/g)].map(([, id]): [string, string] => [file.split("-")[0], id]),
  );
}
