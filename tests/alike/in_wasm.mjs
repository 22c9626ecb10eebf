// Says in WebAssembly what must come out alike, as one JSON list of texts: each file that is named replayed, then so many
// drawn scenarios and as many drills. The arguments are the folder of the bound module, how many are drawn, and the files.
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [where, count, ...files] = process.argv.slice(2);
const folder = resolve(where);
const { again, drawn, drilled, initSync } = await import(pathToFileURL(join(folder, "alike.mjs")));
initSync({ module: readFileSync(join(folder, "alike.wasm")) });

function replayed(file) {
  try {
    return again(readFileSync(file, "utf8"));
  } catch (error) {
    return `refused: ${error.message}`;
  }
}

const texts = files.map(replayed);
for (let number = 0; number < Number(count); number += 1) texts.push(drawn(number));
for (let number = 0; number < Number(count); number += 1) texts.push(drilled(number));
process.stdout.write(JSON.stringify(texts));
