// A slower machine than this one, and a slower network.
import { type Page } from "@playwright/test";

/** Lets the page's processor be so many times slower. */
export async function processor(page: Page, rate: number) {
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate });
  return session;
}

/** Lets the network be that of a telephone with poor reception. */
export async function network(page: Page) {
  const session = await page.context().newCDPSession(page);
  const bytesPerSecond = 1_600_000 / 8;
  await session.send("Network.enable");
  await session.send("Network.emulateNetworkConditions", { offline: false, latency: 150, downloadThroughput: bytesPerSecond, uploadThroughput: bytesPerSecond });
}
