import { chromium } from "@playwright/test";
const b = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu"] });
const c = await b.newContext({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
const p = await c.newPage();
await p.goto("http://127.0.0.1:8323/");
await p.waitForSelector("#choose-help");
const s = await c.newCDPSession(p);
for (const [x, src, speed, d] of [[180,"touch",8000,-300],[180,"touch",800,-300],[352,"touch",1600,-300],[180,"mouse",8000,-300]]) {
  const t = Date.now();
  await s.send("Input.synthesizeScrollGesture", { x, y: 400, yDistance: d, speed, preventFling: true, gestureSourceType: src });
  console.log(x, src, speed, await p.evaluate(() => scrollY), Date.now() - t);
}
// by hand: touch events
const t = Date.now();
await s.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [{ x: 180, y: 600 }] });
for (let y = 560; y >= 300; y -= 40) await s.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: [{ x: 180, y }] });
await s.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
console.log("by hand", await p.evaluate(() => scrollY), Date.now() - t, await p.evaluate(() => document.documentElement.scrollHeight));
await p.waitForTimeout(300);
console.log(await p.evaluate(() => scrollY));
await b.close();
