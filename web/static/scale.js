// Keeps the errand on the scale's page as it is at the desk. Nothing that a person types in is ever touched.

const EVERY_MS = 1000;
const errand = document.getElementById("errand");

// By its key a part is known again. The question brings its own: what stands in its field does not count.
const mark = (root) => {
  for (const part of root.querySelectorAll("[data-part]")) part.dataset.key ??= part.innerHTML;
};

// Who answers by keyboard is at the next question, or at the title; never on a button that answers it.
const land = (part) => {
  const at = part.querySelector("input:not([type=hidden]), .asked, h3") ?? document.querySelector("h1");
  if (at.tagName !== "INPUT") at.tabIndex = -1;
  at.focus();
};

// The question part stays the very same element while its question stays, and with it what was typed there.
const replace = (html) => {
  const fresh = document.createElement("template");
  fresh.innerHTML = html;
  mark(fresh.content);
  for (const part of fresh.content.querySelectorAll("[data-part]")) {
    const old = errand.querySelector(`[data-part=${part.dataset.part}]`);
    if (old.dataset.key === part.dataset.key) continue;
    const open = old.querySelector("details[open]") !== null;
    const held = old.contains(document.activeElement);
    old.replaceWith(part);
    if (held) land(part);
    const details = part.querySelector("details");
    if (details) details.open = open;
  }
};

const typing = () => {
  const fields = [...document.querySelectorAll("main input:not([type=hidden]):not([type=radio])")];
  return fields.some((field) => field === document.activeElement || field.value !== field.defaultValue);
};

const look = async () => {
  try {
    const answer = await fetch("/scale/errand.json", { cache: "no-store" });
    if (!answer.ok) return;
    const { running, html } = await answer.json();
    const ended = errand.hasAttribute("data-running") && !running;
    errand.toggleAttribute("data-running", running);
    replace(html);
    // What was found or checked stands elsewhere on the page; one refused form is left as it is.
    if (ended && location.pathname === "/scale" && !typing()) location.reload();
  } catch {
    // The station does not answer; the page's other script says so.
  }
};

const keepLooking = async () => {
  if (!document.hidden) await look();
  setTimeout(keepLooking, EVERY_MS);
};

// Who types an address means it.
const address = document.querySelector("input[name=address]");
if (address) {
  address.addEventListener("input", () => {
    if (address.value) document.querySelector("input[name=port][value=other]").checked = true;
  });
}
mark(errand);
keepLooking();
