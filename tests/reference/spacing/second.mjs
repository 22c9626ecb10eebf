// Goes through the histories of a file again with ts-fsrs, and fails where it does not come to what stands there.
//
// Settings: fuzz off, no steps within a day, 0.9 known when due, 36 500 days at most. This library rounds to eight digits after
// the point at every step, so it is compared to a part in a million and not to the last digit.
//
// second.mjs FOLDER FILE   FOLDER holds node_modules

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";

const [folder, file] = process.argv.slice(2);
const { fsrs } = createRequire(join(resolve(folder), "package.json"))("ts-fsrs");

const SAME = 1e-6;
const scheduler = fsrs({
  request_retention: 0.9,
  maximum_interval: 36500,
  enable_fuzz: false,
  enable_short_term: true,
  learning_steps: [],
  relearning_steps: [],
});

let [count, times, worst] = [0, 0, 0];
const { histories } = JSON.parse(readFileSync(file, "utf8"));
for (const rows of histories) {
  let memory = null;
  for (const [gap, grade, known, stability, difficulty, due] of rows) {
    const before = memory && scheduler.forgetting_curve(gap, memory.stability);
    memory = scheduler.next_state(memory, gap, grade);
    const off = [
      memory.stability / stability - 1,
      memory.difficulty / difficulty - 1,
      before === null ? 0 : before - known,
    ].map(Math.abs);
    worst = Math.max(worst, ...off);
    times += 1;
    if (!(worst < SAME) || scheduler.next_interval(memory.stability, gap) !== due) {
      console.error(`history ${count}: ${JSON.stringify(rows)}: ${JSON.stringify(memory)}, off by ${off}`);
      process.exit(1);
    }
  }
  count += 1;
}
if (count === 0) process.exit(1);
console.log(`ts-fsrs: ${count} histories, ${times} times asked, off by ${worst.toExponential(1)} at most`);
