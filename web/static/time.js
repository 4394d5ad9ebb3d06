// The phone knows the time: it tells the station when its button is pressed, with its own offset from UTC.

const two = (number) => String(number).padStart(2, "0");

const told = () => {
  const now = new Date();
  const east = -now.getTimezoneOffset();
  const span = Math.abs(east);
  const day = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  return {
    day,
    time: `${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}`,
    zone: `${east < 0 ? "-" : "+"}${two(Math.floor(span / 60))}:${two(span % 60)}`,
  };
};

const form = document.querySelector("form[data-phone]");
if (form) {
  const says = form.querySelector("[data-says]");
  const show = () => {
    const { day, time } = told();
    says.textContent = `${time}, ${day}`;
  };
  form.addEventListener("submit", () => {
    const { day, time, zone } = told();
    form.elements.now.value = `${day}T${time}`;
    form.elements.zone.value = zone;
  });
  form.hidden = false;
  document.querySelector("details.typed").open = false;
  show();
  setInterval(show, 1000);
}
