"use strict";
// Fills the request from the chosen example, sends it, and shows status and answer below the form.
for (const choice of document.querySelectorAll("select.example")) {
  choice.addEventListener("change", () => {
    choice.form.querySelector("textarea").value = choice.value;
  });
}
for (const form of document.querySelectorAll("form")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const body = form.querySelector("textarea");
    const parameter = form.querySelector("select.parameter");
    const path = parameter ? form.dataset.path.replace("{id}", encodeURIComponent(parameter.value)) : form.dataset.path;
    const status = form.parentElement.querySelector(".status");
    const answer = form.parentElement.querySelector("pre");
    status.textContent = "Asking …";
    try {
      const response = await fetch(path, {
        method: form.dataset.method,
        headers: body ? { "content-type": "application/json" } : {},
        body: body ? body.value : undefined,
      });
      const text = await response.text();
      status.textContent = `${response.status} ${response.headers.get("content-type")}`;
      try {
        answer.textContent = JSON.stringify(JSON.parse(text), null, 2);
      } catch {
        answer.textContent = text;
      }
      answer.hidden = false;
    } catch (error) {
      status.textContent = `No answer: ${error.message}`;
    }
  });
}
