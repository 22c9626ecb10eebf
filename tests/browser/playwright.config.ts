// How the browser tests run. `cargo xtask test` starts the servers and says in the environment where they are; to try
// one test by hand: `cargo xtask test --only browser -- shell.spec.ts -g "title"`.
import { defineConfig } from "@playwright/test";

if (!process.env.BASE_URL) throw new Error("start the browser tests through `cargo xtask test --only browser`");

export default defineConfig({
  testDir: ".",
  workers: 2,
  retries: 0,
  forbidOnly: true,
  fullyParallel: true,
  reporter: [["list"]],
  use: {
    baseURL: process.env.BASE_URL,
    viewport: { width: 1280, height: 800 },
    locale: "en-GB",
    // A worker would answer in place of what a test puts in the way. What it does itself is tested in offline.spec.ts.
    serviceWorkers: "block",
    // A trace of each step makes whole journeys ten times as slow: ask for it with TRACE=1.
    trace: process.env.TRACE ? "retain-on-failure" : "off",
    screenshot: "only-on-failure",
    launchOptions: {
      executablePath: process.env.CHROMIUM,
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
      ],
    },
  },
});
