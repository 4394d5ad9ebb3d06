// Buttons ask the bench for one thing each, without leaving the page, and say in words when the bench will not.

const place = document.getElementById("answer");
let timer = null;

const say = (words) => {
  place.textContent = words;
  place.hidden = false;
  clearTimeout(timer);
  timer = setTimeout(() => { place.hidden = true; }, 8000);
};

const ask = async (what, said) => {
  try {
    const answer = await fetch(`/api/${what}`, {
      method: "POST",
      headers: {
        "Content-Type": "application/json",
        "X-Tarebell-Token": document.querySelector("meta[name=token]").content,
      },
      body: JSON.stringify(said),
    });
    if (answer.ok) place.hidden = true;
    else say((await answer.json()).refused);
  } catch {
    say(place.dataset.mute);
  }
};

// Only the lots of the chosen material are asked for.
const follow = (form) => {
  const choose = () => {
    for (const set of form.querySelectorAll("[data-for]")) set.hidden = set.dataset.for !== form.elements.material.value;
  };
  form.elements.material.addEventListener("change", choose);
  choose();
};

export const touch = (after) => {
  document.addEventListener("submit", async (event) => {
    const form = event.target.closest("form[data-ask]");
    if (!form) return;
    event.preventDefault();
    const { token, back, ...said } = Object.fromEntries(new FormData(form));
    const button = form.querySelector("button");
    // Not switched off altogether: that would take the focus from it.
    if (button.getAttribute("aria-disabled")) return;
    button.setAttribute("aria-disabled", "true");
    await ask(form.dataset.ask, said);
    button.removeAttribute("aria-disabled");
    after();
  });
  document.querySelectorAll("form[data-new]").forEach(follow);
};
