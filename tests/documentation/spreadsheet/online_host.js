// Stands in for the host of a spreadsheet script: runs online_sheet.js with the services that the host gives a script,
// then calls its function as cells would. Arguments: the script, the service's address. Reads calls in JSON from
// standard input, each with its arguments; writes for each what the cells show and how many requests it took.
"use strict";
const { execFileSync } = require("node:child_process");
const { createHash } = require("node:crypto");
const { readFileSync } = require("node:fs");
const { runInNewContext } = require("node:vm");

const [script, address] = process.argv.slice(2);
// The host's fetch waits for its answer, node's does not: so each goes out from a process of its own.
const FETCH = `
const { url, options } = JSON.parse(require("node:fs").readFileSync(0, "utf8"));
fetch(url, options).then(async (found) => console.log(JSON.stringify([found.status, await found.text()])));`;
let requests = 0;
const cached = new Map();

const host = {
  UrlFetchApp: {
    fetch(url, { method, contentType, payload, muteHttpExceptions }) {
      requests += 1;
      const options = { method: method.toUpperCase(), headers: { "content-type": contentType }, body: payload };
      let answer;
      try {
        const input = JSON.stringify({ url, options });
        answer = execFileSync(process.execPath, ["-e", FETCH], { input, maxBuffer: 1e8, stdio: ["pipe", "pipe", "ignore"] });
      } catch {
        throw new Error(`Address unavailable: ${url}`);
      }
      const [status, text] = JSON.parse(answer);
      if (status >= 400 && !muteHttpExceptions) throw new Error(`Request failed with status ${status}`);
      return { getResponseCode: () => status, getContentText: () => text };
    },
  },
  CacheService: {
    getScriptCache: () => ({
      get: (key) => cached.get(key) ?? null,
      put(key, value, seconds) {
        if (key.length > 250 || value.length > 100_000 || seconds > 21_600) throw new Error("Argument too large");
        cached.set(key, value);
      },
    }),
  },
  Utilities: {
    DigestAlgorithm: { SHA_256: "sha256" },
    computeDigest: (algorithm, text) => [...createHash(algorithm).update(text).digest()],
    base64Encode: (bytes) => Buffer.from(bytes).toString("base64"),
  },
};
runInNewContext(readFileSync(script, "utf8").replace("https://adjust.example", address), host);
const shown = JSON.parse(readFileSync(0, "utf8")).map((given) => {
  const before = requests;
  return { cells: host.ASK(...given), requests: requests - before };
});
console.log(JSON.stringify(shown));
