// Puts values into the marked places of a page: data-text, data-put (attributes), data-show, data-in (scope), data-list.
// The station computes; this only shows. The marks are written by the page's templates (station/phone/binding.py).

const dig = (scope, path) => {
  if (path === ".") return scope;
  return path.split(".").reduce((value, key) => (value === null || value === undefined ? null : value[key]), scope);
};

const put = (element, name, value) => {
  if (value === null || value === undefined || value === false) {
    element.removeAttribute(name);
    return;
  }
  const text = value === true ? "" : String(value);
  if (element.getAttribute(name) !== text) element.setAttribute(name, text);
};

const names = new WeakMap();
const named = (value, place) => (value?.number === undefined ? place : `${value.number} ${value.clock?.name}`);

// The part of a cast or an alarm stays with it wherever it moves: a button that has the focus would else turn into
// another one's. What has the focus is never moved itself, it would lose it; the others move around it.
const list = (element, values) => {
  const pattern = document.getElementById(element.dataset.of).content.firstElementChild;
  const held = new Map([...element.children].map((child) => [names.get(child) ?? child, child]));
  const spare = [...element.children].filter((child) => !names.has(child));
  const wanted = values.map((value, place) => {
    const name = named(value, place);
    const child = held.get(name) ?? spare.shift() ?? pattern.cloneNode(true);
    names.set(child, name);
    return child;
  });
  for (const child of [...element.children]) if (!wanted.includes(child)) child.remove();
  wanted.forEach((child, place) => {
    if (child.contains(document.activeElement)) while (element.children[place] !== child) child.after(element.children[place]);
    else if (element.children[place] !== child) element.insertBefore(child, element.children[place] ?? null);
    bind(child, values[place]);
  });
};

export const bind = (element, scope) => {
  const marks = element.dataset;
  if (marks.in !== undefined) {
    scope = dig(scope, marks.in);
    element.hidden = scope === null || scope === undefined;
    if (element.hidden) return;
  }
  if (marks.show !== undefined) element.hidden = !dig(scope, marks.show);
  if (marks.put !== undefined) {
    for (const pair of marks.put.split(" ")) {
      const [name, path] = pair.split("=");
      put(element, name, dig(scope, path));
    }
  }
  if (marks.text !== undefined) {
    const value = dig(scope, marks.text);
    const text = value === null || value === undefined ? "" : String(value);
    if (element.textContent !== text) element.textContent = text;
  } else if (marks.list !== undefined) {
    list(element, dig(scope, marks.list) || []);
  } else {
    for (const child of element.children) bind(child, scope);
  }
};
