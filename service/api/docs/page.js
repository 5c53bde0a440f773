"use strict";
// Fills the forms from the chosen example, shows the address and the formulas of a question, and sends it.

const LONGEST_TEXT = 250; // a formula's text may have 255 characters

// The address that a GET form asks: its path with the ids chosen, its query, and what is asked of the answer.
function address(form) {
  let path = form.dataset.path;
  for (const choice of form.querySelectorAll(".parameter")) {
    path = path.replace(`{${choice.dataset.name}}`, encodeURIComponent(choice.value));
  }
  const query = form.querySelector(".query");
  if (!query) {
    return path;
  }
  const as = form.querySelector(".as").value;
  const select = form.querySelector(".select").value;
  const parts = query.value.trim() ? [query.value.trim()] : [];
  if (as !== "json") {
    parts.push(`as=${as}`);
  }
  if (select && (as === "csv" || as === "text")) {
    parts.push(`select=${encodeURIComponent(select).replaceAll("%2F", "/")}`);
  }
  return parts.length ? `${path}?${parts.join("&")}` : path;
}

// The formula that asks an address, whose text goes in pieces where it is long.
function formula(url, separator) {
  const pieces = url.match(new RegExp(`.{1,${LONGEST_TEXT}}`, "g"));
  const text = pieces.map((piece) => `"${piece}"`).join("&");
  return `=NUMBERVALUE(WEBSERVICE(${text})${separator}"."${separator}",")`;
}

function showAddress(form) {
  const link = form.querySelector(".link");
  if (!link) {
    return;
  }
  const url = location.origin + address(form);
  link.href = url;
  link.textContent = url;
  const asCell = form.querySelector(".as").value === "text";
  [",", ";"].forEach((separator, index) => {
    const place = form.querySelectorAll(".formula")[index];
    place.textContent = asCell ? formula(url, separator) : "A cell takes the form text.";
  });
}

function showAnswer(form, response, text) {
  const status = form.nextElementSibling;
  const picture = status.nextElementSibling;
  const answer = picture.nextElementSibling;
  const type = response.headers.get("content-type") ?? "";
  URL.revokeObjectURL(picture.src);
  picture.hidden = !type.startsWith("image/svg+xml");
  answer.hidden = !picture.hidden;
  if (picture.hidden) {
    answer.textContent = type.includes("json") ? JSON.stringify(JSON.parse(text), null, 2) : text;
  } else {
    // read as text: a parsed picture would try its own style sheet against this page's policy
    picture.alt = text.match(/<title[^>]*>([^<]*)/)?.[1] ?? "Picture";
    picture.src = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
  }
  status.classList.toggle("refused", !response.ok);
  status.textContent = `${response.ok ? "Answered" : "Refused"}: ${response.status}, ${type}`;
}

async function send(form, as) {
  const status = form.nextElementSibling;
  const body = form.querySelector(".body");
  const key = document.getElementById("api-key").value.trim();
  status.classList.remove("refused");
  status.textContent = "Asking …";
  try {
    const response = await fetch(address(form) + (as ? `?as=${as}` : ""), {
      method: form.dataset.method,
      headers: {
        ...(body && { "content-type": body.dataset.mediaType }),
        ...(key && { authorization: `Bearer ${key}` }),
      },
      body: body ? body.value : undefined,
    });
    showAnswer(form, response, await response.text());
  } catch (error) {
    status.classList.add("refused");
    status.textContent = `No answer: ${error.message}`;
  }
}

// A link to an operation opens it.
function openTarget() {
  const target = document.getElementById(location.hash.slice(1));
  if (target instanceof HTMLDetailsElement) {
    target.open = true;
    target.scrollIntoView();
    target.querySelector("summary").focus();
  }
}

for (const choice of document.querySelectorAll(".example")) {
  choice.addEventListener("change", () => {
    const operation = choice.closest(".operation");
    operation.querySelector(".body").value = choice.value;
    const query = operation.querySelector(".query");
    if (query) {
      query.value = choice.selectedOptions[0].dataset.query;
      showAddress(query.form);
    }
  });
}
for (const form of document.querySelectorAll("form")) {
  showAddress(form);
  form.addEventListener("input", () => showAddress(form));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    send(form, event.submitter?.dataset.form);
  });
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
      form.requestSubmit();
    }
  });
}
window.addEventListener("hashchange", openTarget);
openTarget();
