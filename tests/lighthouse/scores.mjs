// What Lighthouse says of a page as a telephone would show it, so many times: scores of 0 to 100 by category, as JSON.
// Arguments: the address, the times, and the path of a Chromium.
import { launch } from "chrome-launcher";
import lighthouse from "lighthouse";

const [url, times, chromePath] = process.argv.slice(2);
const scores = {};
for (let time = 0; time < Number(times); time++) {
  const chrome = await launch({ chromePath, chromeFlags: ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic"] });
  try {
    const { lhr } = await lighthouse(url, { port: chrome.port, output: "json", logLevel: "error" });
    if (lhr.runtimeError) throw new Error(lhr.runtimeError.message);
    for (const { id, score } of Object.values(lhr.categories)) (scores[id] ??= []).push(Math.round(score * 100));
    const lost = Object.values(lhr.categories).flatMap(({ auditRefs }) => auditRefs).filter(({ id, weight }) => weight && lhr.audits[id].score !== null && lhr.audits[id].score < 0.9);
    for (const { id } of lost) console.error(`${id}: ${lhr.audits[id].displayValue ?? lhr.audits[id].title}`);
  } finally {
    chrome.kill();
  }
}
console.log(JSON.stringify(scores));
