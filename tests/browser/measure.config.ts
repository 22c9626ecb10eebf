// How the page is measured in a browser: one thing after the other. `cargo xtask bench` starts it, and reads what it notes.
import { defineConfig } from "@playwright/test";
import tests from "./playwright.config";

export default defineConfig({ ...tests, testDir: "measure", testMatch: "*.measure.ts", workers: 1, fullyParallel: false, timeout: 600_000 });
