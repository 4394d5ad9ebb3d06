// Keeps the page of all benches as the station draws it. Where a finger rests on a button nothing is moved.

const EVERY_MS = 2000;
const place = document.getElementById("benches");

const look = async () => {
  if (place.querySelector(":active")) return;
  try {
    const answer = await fetch("/benches/now", { cache: "no-store" });
    if (!answer.ok) return;
    const html = await answer.text();
    if (!place.querySelector(":active")) place.innerHTML = html;
  } catch {
    // The station does not answer; the page's other script says so.
  }
};

const keepLooking = async () => {
  if (!document.hidden) await look();
  setTimeout(keepLooking, EVERY_MS);
};

if (place) setTimeout(keepLooking, EVERY_MS);
