// Whether the page grows: rehearsals one after the other in one page, each gone through, reviewed and forgotten, which goes
// through three modules.
import { type CDPSession, type Page, expect, test } from "@playwright/test";
import { follow, golden, mouse, start } from "../conductor";
import { note } from "./note";

/** Has the page keep the memories of its modules where they can be asked. */
const watch = (page: Page) =>
  page.addInitScript(() => {
    const memories: WebAssembly.Memory[] = [];
    Object.assign(window, { memories });
    for (const name of ["instantiate", "instantiateStreaming"] as const) {
      const original = WebAssembly[name] as (...given: any[]) => Promise<any>;
      (WebAssembly as any)[name] = async (...given: any[]) => {
        const made = await original(...given);
        memories.push((made.instance ?? made).exports.memory);
        return made;
      };
    }
  });

/** What the page holds once what is not needed is gone, in bytes. */
async function held(page: Page, session: CDPSession) {
  for (let turn = 0; turn < 3; turn++) await session.send("HeapProfiler.collectGarbage");
  const { usedSize, embedderHeapUsedSize } = (await session.send("Runtime.getHeapUsage")) as any;
  const wasm = await page.evaluate(() => ((window as any).memories as WebAssembly.Memory[]).reduce((sum, { buffer }) => sum + buffer.byteLength, 0));
  const { nodes, jsEventListeners } = await session.send("Memory.getDOMCounters");
  console.log(`script ${usedSize}, page ${embedderHeapUsedSize}, modules ${wasm} bytes; ${nodes} nodes, ${jsEventListeners} listeners`);
  return usedSize + embedderHeapUsedSize + wasm;
}

/** A whole run but for its last act. */
function nearly(id: string) {
  const run = JSON.parse(golden(id));
  run.acts.pop();
  return JSON.stringify(run);
}

/** Opens a run by the page's file field, in the page: a file that the browser's tool hands over keeps the whole screen alive. */
const open = (page: Page, run: string) =>
  page.evaluate((run) => {
    const field = document.querySelector<HTMLInputElement>("#open-file")!;
    const files = new DataTransfer();
    files.items.add(new File([run], "run.json", { type: "application/json" }));
    field.files = files.files;
    field.dispatchEvent(new Event("change", { bubbles: true }));
  }, run);

async function rehearse(page: Page, run: string) {
  await open(page, run);
  await expect(page.locator("#squeeze")).toBeVisible();
  await page.locator(".pace select").selectOption("stepped");
  await follow(page, mouse(page));
  await page.click("#to-review");
  await expect(page.locator(".review")).toBeVisible();
  await page.click(".mark");
  const forget = page.locator(".kept li button");
  await forget.click();
  await forget.click();
  await expect(page.locator(".kept li")).toHaveCount(0);
}

test("memory from the tenth rehearsal to the fiftieth", async ({ page }) => {
  await watch(page);
  await start(page);
  const session = await page.context().newCDPSession(page);
  const run = nearly("records-office");
  // The browser sweeps its own part when it comes to it: so around each of the two rehearsals it is asked five times.
  const [before, after] = [[] as number[], [] as number[]];
  for (let turn = 1; turn <= 52; turn++) {
    await rehearse(page, run);
    if (turn >= 8 && turn <= 12) before.push(await held(page, session));
    if (turn >= 48) after.push(await held(page, session));
  }
  note("memory", after, before);
});
