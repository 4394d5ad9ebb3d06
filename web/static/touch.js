// Buttons: each asks the bench for one thing and says in words when the bench will not.

const token = document.querySelector("meta[name=token]").content;

const say = (words) => {
  const place = document.getElementById("answer");
  place.textContent = words;
  place.hidden = false;
  clearTimeout(say.timer);
  say.timer = setTimeout(() => { place.hidden = true; }, 6000);
};

const ask = async (what, body) => {
  try {
    const answer = await fetch(`/api/${what}`, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Tarebell-Token": token },
      body: JSON.stringify(body),
    });
    if (!answer.ok) say((await answer.json()).refused);
  } catch {
    say("The station does not answer. Use the pedal.");
  }
};

const bodies = {
  press: (button) => ({ press: button.dataset.press }),
  acknowledge: (button) => ({ number: Number(button.dataset.number), clock: button.dataset.clock }),
  demold: (button) => ({ number: Number(button.dataset.number) }),
  abort: (button) => {
    const reason = prompt("Why is this cast given up? The reason is kept in its record.");
    return reason ? { number: Number(button.dataset.number), reason } : null;
  },
  note: (button) => {
    const text = prompt("Note for the record of this cast:");
    return text ? { number: Number(button.dataset.number), text } : null;
  },
};

export const touch = (after) => {
  document.addEventListener("click", async (event) => {
    const button = event.target.closest("button[data-do]");
    if (!button) return;
    const body = bodies[button.dataset.do](button);
    if (body === null) return;
    button.disabled = true;
    await ask(button.dataset.do, body);
    button.disabled = false;
    after();
  });
};
