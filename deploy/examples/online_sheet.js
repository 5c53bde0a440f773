/**
 * A custom function for the kind of spreadsheet that runs in a browser and takes scripts.
 *
 * Paste this file into the spreadsheet's script editor, put the address of your service below (it must be reachable
 * from the internet; the host fetches it, not your computer), and write into a cell
 *
 *   =ASK("load-for-reps", A1:E20, "/load/value, /load/low, /load/high")
 *
 * The first row of the range names the parameters of GET /v1/load-for-reps; the unit of a column may stand behind its
 * name, as in "load kg", so that the cells hold plain numbers. Each further row is a question. All rows go out in one
 * request; beside each stands what was asked of its answer, or in one line why it has none. A review of sessions is a
 * row too: sessions_pain_in_session holds 3,2,1.5 and sessions_reps_done 6;6;6;6,6;6;6;5 and so on, and
 *
 *   =ASK("session-review", A1:P2, "/decision, /next/exercise, /next/sets, /next/load/value, /rule/message/text")
 *
 * says what to do next.
 */
const SERVICE = "https://adjust.example";
const KEPT_SECONDS = 3600;
const LONGEST_KEPT = 90000; // the host's cache takes values up to 100 kB
const MOST_ROWS = 10000;
const ERROR = "error";

/**
 * Asks the service one question a row.
 * @param {string} operation Name of the operation, such as "load-for-reps".
 * @param {Array<Array<string|number|boolean>>} questions The range: a row of names, then the questions.
 * @param {string} pointers Parts of the answer as JSON Pointers, separated by commas.
 * @return {Array<Array<string|number>>} A row for each question.
 * @customfunction
 */
function ASK(operation, questions, pointers) {
  if (!Array.isArray(questions) || questions.length < 2) {
    return "The range needs a row of names and a question below it.";
  }
  if (questions.length - 1 > MOST_ROWS) {
    return `A range may have ${MOST_ROWS} questions.`;
  }
  const wanted = String(pointers).split(",").map((pointer) => pointer.trim());
  const filled = questions.map((row, index) => index > 0 && row.some((value) => value !== ""));
  try {
    const [names, ...answers] = readCsv(answered(operation, questionTable(questions, filled)));
    const places = wanted.map((pointer) => names.indexOf(pointer));
    const unknown = wanted.filter((_, index) => places[index] < 0);
    if (unknown.length > 0) {
      return `The answer has no ${unknown.join(", ")}.`;
    }
    const reason = names.indexOf(ERROR);
    const shown = (row) => places.map((place, index) => (row[reason] ? (index ? "" : row[reason]) : asNumber(row[place])));
    return filled.slice(1).map((given) => (given ? shown(answers.shift()) : wanted.map(() => "")));
  } catch (failure) {
    return `No answer: ${failure.message}`;
  }
}

/** The questions as CSV; "load kg" above a number 62.5 becomes the column load with 62.5kg. */
function questionTable(questions, filled) {
  const columns = questions[0].map((heading) => String(heading).trim().split(/\s+/));
  const rows = questions.filter((_, index) => filled[index]);
  const cells = rows.map((row) => row.map((value, index) => (value === "" ? "" : `${value}${columns[index][1] || ""}`)));
  return [columns.map(([name]) => name), ...cells].map((row) => row.map(csvCell).join(",")).join("\r\n");
}

/** The service's answer to a table, from the cache where the same table was asked within the hour. */
function answered(operation, table) {
  const cache = CacheService.getScriptCache();
  const address = `${SERVICE}/v1/tables/${encodeURIComponent(operation)}`;
  const digest = Utilities.computeDigest(Utilities.DigestAlgorithm.SHA_256, `${address}\n${table}`);
  const key = Utilities.base64Encode(digest);
  const kept = cache.get(key);
  if (kept !== null) {
    return kept;
  }
  const response = UrlFetchApp.fetch(address, {
    method: "post",
    contentType: "text/csv; charset=utf-8",
    payload: table,
    muteHttpExceptions: true,
  });
  const text = response.getContentText();
  if (response.getResponseCode() !== 200) {
    throw new Error(reasonIn(text, response.getResponseCode()));
  }
  if (text.length < LONGEST_KEPT) {
    cache.put(key, text, KEPT_SECONDS);
  }
  return text;
}

/** One line from problem details (RFC 9457), or the status where the answer is none. */
function reasonIn(text, status) {
  try {
    const problem = JSON.parse(text);
    const faults = (problem.errors || []).map((fault) => `${fault.parameter || fault.pointer}: ${fault.detail}`);
    return faults.length > 0 ? faults.join(" ") : problem.detail;
  } catch {
    return `the service answered with status ${status}`;
  }
}

/** A value as a cell of CSV (RFC 4180). */
function csvCell(value) {
  return /[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
}

/** CSV (RFC 4180) as rows of texts. */
function readCsv(text) {
  const rows = [[]];
  for (const [, quoted, plain, end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/g)) {
    rows[rows.length - 1].push(quoted === undefined ? plain : quoted.replaceAll('""', '"'));
    if (end === "\r\n") {
      rows.push([]);
    }
  }
  return rows.filter((row) => row.length > 1);
}

/** Numbers come with a decimal point; everything else stays text. */
function asNumber(text) {
  return /^-?\d+(\.\d+)?(e[+-]?\d+)?$/i.test(text) ? Number(text) : text;
}
