"use strict";
// Fills the forms from the chosen example, shows the address and the formulas of a question, and sends it.

// The address that a GET form asks: its path with the ids chosen, its query, and what is asked of the answer.
function address(form) {
  let path = form.dataset.path;
  const parts = [];
  for (const { dataset, value } of form.querySelectorAll(".parameter")) {
    if (path.includes(`{${dataset.name}}`)) {
      path = path.replace(`{${dataset.name}}`, encodeURIComponent(value));
    } else if (value) {
      parts.push(`${dataset.name}=${encodeURIComponent(value)}`);
    }
  }
  const query = form.querySelector(".query");
  if (query) {
    const as = form.querySelector(".as").value;
    const select = form.querySelector(".select").value;
    parts.push(...(query.value.trim() ? [query.value.trim()] : []), ...(as === "json" ? [] : [`as=${as}`]));
    if (select && (as === "csv" || as === "text")) {
      parts.push(`select=${encodeURIComponent(select).replaceAll("%2F", "/")}`);
    }
  }
  return parts.length ? `${path}?${parts.join("&")}` : path;
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
  [",", ";"].forEach((separator, number) => {
    form.querySelectorAll(".formula")[number].textContent = asCell
      ? `=NUMBERVALUE(WEBSERVICE(${pieces(url)})${separator}"."${separator}",")`
      : "A cell takes the form text.";
  });
}

// --- answers ---
function showPages(reply, names, asked) {
  const choice = reply.querySelector(".page");
  if (!choice) {
    return;
  }
  reply.querySelector(".pages").hidden = names.length < 2;
  choice.replaceChildren(...names.map((name, number) => new Option(name, number + 1)));
  choice.value = asked.get("page") ?? 1;
  choice.onchange = () => {
    asked.set("page", choice.value);
    send(reply.closest("form"), asked);
  };
}

async function showPicture(picture, blob, page) {
  const text = blob.type.startsWith("image/svg") ? await blob.text() : "";
  // read as text: a parsed picture would try its own style sheet against this page's policy
  const title = text.match(/<title[^>]*>([^<]*)/)?.[1] ?? "Picture";
  picture.alt = page ? `${title}, page ${page}` : title;
  picture.src = URL.createObjectURL(blob);
}

async function showReport(reply, blob) {
  // without a script or an origin of its own, under the policy of this page
  reply.querySelector(".report").srcdoc = await blob.text();
  reply.querySelector(".save a").href = URL.createObjectURL(blob);
}

async function showAnswer(reply, response, asked) {
  const type = response.headers.get("content-type") ?? "";
  const blob = await response.blob();
  const kind = type.startsWith("image/") ? "picture" : type.startsWith("text/html") ? "report" : "answer";
  for (const place of reply.querySelectorAll(".picture, .report, .answer")) {
    place.hidden = !place.classList.contains(kind);
  }
  reply.querySelector(".save")?.toggleAttribute("hidden", kind !== "report");
  const pages = kind === "picture" ? Number(response.headers.get("pages")) : 0;
  const names = Array.from({ length: pages }, (_, number) => `${number + 1} of ${pages}`);
  showPages(reply, names, asked);
  if (kind === "picture") {
    await showPicture(reply.querySelector(".picture"), blob, pages > 1 && names[(asked.get("page") ?? 1) - 1]);
  } else if (kind === "report") {
    await showReport(reply, blob);
  } else {
    const text = await blob.text();
    reply.querySelector(".answer").textContent = type.includes("json") ? JSON.stringify(JSON.parse(text), null, 2) : text;
  }
  const status = reply.querySelector(".status");
  status.classList.toggle("refused", !response.ok);
  status.textContent = `${response.ok ? "Answered" : "Refused"}: ${response.status}, ${type}`;
}

// asked: what is asked of the answer to a question in a body
async function send(form, asked) {
  const reply = form.querySelector(".reply");
  const status = reply.querySelector(".status");
  const body = form.querySelector(".body");
  const key = document.getElementById("api-key").value.trim();
  const target = address(form);
  const query = `${asked}` && `${target.includes("?") ? "&" : "?"}${asked}`;
  status.classList.remove("refused");
  status.textContent = "Asking …";
  for (const place of reply.querySelectorAll(".picture, .save a")) {
    URL.revokeObjectURL(place.src ?? place.href);
  }
  try {
    const response = await fetch(target + query, {
      method: form.dataset.method,
      headers: {
        ...(body && { "content-type": body.dataset.mediaType }),
        ...(key && { authorization: `Bearer ${key}` }),
      },
      body: body ? body.value : undefined,
    });
    await showAnswer(reply, response, asked);
  } catch (error) {
    status.classList.add("refused");
    status.textContent = `No answer: ${error.message}`;
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
    send(form, new URLSearchParams(event.submitter?.dataset.query));
  });
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
      form.requestSubmit();
    }
  });
}
