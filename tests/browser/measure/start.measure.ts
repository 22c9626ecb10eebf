// How long it takes until the first screen can be used, with nothing in the cache, beside the least page that Yew makes; and
// until there is something to read.
import { type Browser, test } from "@playwright/test";
import { ROUNDS, note } from "./note";
import { network, processor } from "./slow";

const OURS = { url: process.env.BASE_URL!, ready: "html[data-started] [id^=begin-]" };
const HELLO = { url: process.env.HELLO_URL!, ready: "h1" };

/** How long until this page can be used, in milliseconds, at so many times slower. */
async function ready(browser: Browser, { url, ready }: typeof OURS, rate: number) {
  const context = await browser.newContext({ serviceWorkers: "block" });
  const page = await context.newPage();
  await processor(page, rate);
  await page.addInitScript((ready) => {
    const look = () => {
      if (!document.querySelector(ready)) return;
      (window as any).ready ??= performance.now();
      watching.disconnect();
    };
    const watching = new MutationObserver(look);
    watching.observe(document, { childList: true, subtree: true, attributes: true });
  }, ready);
  await page.goto(url);
  const found = await page.waitForFunction(() => (window as any).ready as number | undefined);
  const took = (await found.jsonValue())!;
  await context.close();
  return took;
}

for (const rate of [1, 4]) {
  test(`ready, cold, ${rate}`, async ({ browser }) => {
    const [ours, hello] = [[] as number[], [] as number[]];
    for (let round = 0; round < ROUNDS; round++) {
      hello.push(await ready(browser, HELLO, rate));
      ours.push(await ready(browser, OURS, rate));
    }
    note(`ready-${rate}`, ours, hello);
  });
}

test("first paint beside the module's arrival, on a slow network", async ({ browser }) => {
  const [painted, arrived] = [[] as number[], [] as number[]];
  for (let round = 0; round < ROUNDS; round++) {
    const context = await browser.newContext({ serviceWorkers: "block" });
    const page = await context.newPage();
    await network(page);
    await page.goto(OURS.url);
    await page.waitForSelector(OURS.ready);
    const [paint, module] = await page.evaluate(() => [
      performance.getEntriesByName("first-contentful-paint")[0].startTime,
      (performance.getEntriesByType("resource") as PerformanceResourceTiming[]).find(({ name }) => name.endsWith(".wasm"))!.responseEnd,
    ]);
    painted.push(paint);
    arrived.push(module);
    await context.close();
  }
  note("first-paint", painted, arrived);
});
