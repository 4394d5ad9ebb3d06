// Keeps the page of all benches as the station draws it. Where a finger rests on a button nothing is moved.
import { keeping } from "./focus.js";

const EVERY_MS = 2000;
const place = document.getElementById("benches");

const asks = (form) => new URLSearchParams(new FormData(form)).toString();

// What is the same stays the very same element, so that the focus stays where it is; a form that asks for something
// else is another form.
const turn = (old, fresh) => {
  if (old.nodeName !== fresh.nodeName || (old.nodeName === "FORM" && asks(old) !== asks(fresh))) {
    old.replaceWith(fresh);
    return;
  }
  if (old.nodeType === Node.TEXT_NODE && old.data !== fresh.data) old.data = fresh.data;
  if (old.nodeType !== Node.ELEMENT_NODE) return;
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name)) old.removeAttribute(name);
  for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  const parts = [...fresh.childNodes];
  if (parts.length !== old.childNodes.length) old.replaceChildren(...parts);
  else [...old.childNodes].forEach((part, at) => turn(part, parts[at]));
};

const paint = (html) => {
  const fresh = place.cloneNode();
  fresh.innerHTML = html;
  keeping(() => turn(place, fresh));
};

const look = async () => {
  if (place.querySelector(":active")) return;
  try {
    const answer = await fetch("/benches/now", { cache: "no-store" });
    if (!answer.ok) return;
    const html = await answer.text();
    if (!place.querySelector(":active")) paint(html);
  } catch {
    // The station does not answer; the page's other script says so.
  }
};

const keepLooking = async () => {
  if (!document.hidden) await look();
  setTimeout(keepLooking, EVERY_MS);
};

if (place) setTimeout(keepLooking, EVERY_MS);
