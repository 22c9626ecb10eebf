// Times in WebAssembly what the library makes ready: one sample of each, as JSON. The argument is the folder of the bound
// module.
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const SECONDS = 0.3;
const TIMES = 500;

const folder = resolve(process.argv[2]);
const { Bench, initSync } = await import(pathToFileURL(join(folder, "bench.mjs")));
initSync({ module: readFileSync(join(folder, "bench.wasm")) });

function perSecond(work) {
  // Until the engine has compiled it for speed.
  for (const until = performance.now() + 200; performance.now() < until; ) work();
  const start = performance.now();
  let times = 0;
  while (performance.now() - start < SECONDS * 1_000) {
    work();
    times += TIMES;
  }
  return times / ((performance.now() - start) / 1_000);
}

function milliseconds(work) {
  const start = performance.now();
  for (let times = 0; times < 10; times++) work();
  return (performance.now() - start) / 10;
}

const bench = new Bench();
const rehearsal = perSecond(() => bench.rehearse(TIMES));
const plain = perSecond(() => bench.plain(TIMES));
const [counts, impression] = [bench.counts(), bench.impression()].map((json) => JSON.parse(json));
const [pair_ms, shares_ms] = [milliseconds(() => bench.pair()), milliseconds(() => bench.shares())];
console.log(JSON.stringify({ rehearsal, plain, pair_ms, shares_ms, counts, impression }));
