// SPDX-License-Identifier: MIT
/** @file A browser for the tests of the page: Debian's, without a window, watched for whatever leaves it. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import puppeteer from "puppeteer-core";

const flags = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync",
];

/**
 * Opens a file from disk. `requests` and `complaints` fill while it is open: what was asked for beside the file and what the
 * page made itself, and what stood in the console as an error.
 * @param {"chrome" | "firefox"} kind
 */
export async function browser(kind) {
  const home = mkdtempSync(join(tmpdir(), "hollowtop-browser-"));
  const running = await puppeteer.launch({
    browser: kind,
    executablePath: kind === "chrome" ? "/usr/bin/chromium" : "/usr/bin/firefox-esr",
    headless: true,
    userDataDir: kind === "chrome" ? home : undefined,
    args: kind === "chrome" ? flags : [],
    protocolTimeout: 600_000,
  });
  return {
    /** @param {string} file */
    async open(file) {
      const page = await running.newPage();
      /** @type {string[]} */
      const requests = [], complaints = [];
      page.on("request", (request) => {
        if (!/^(file|blob|data):/.test(request.url())) requests.push(request.url());
      });
      page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
      page.on("pageerror", (error) => complaints.push(String(error)));
      await page.goto(`file://${file}`);
      return { page, requests, complaints };
    },
    async close() {
      await running.close();
      rmSync(home, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
