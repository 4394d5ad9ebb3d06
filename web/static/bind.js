// Puts values into marked places of the page: data-t text, data-show / data-hide, data-attr, data-with, data-list.
// The station computes; this only shows.

const at = (path, value) =>
  path === "." ? value : path.split(".").reduce((v, key) => (v === null || v === undefined ? v : v[key]), value);

const set = (element, name, value) => {
  const text = value === null || value === undefined ? "" : String(value);
  if (element.getAttribute(name) !== text) element.setAttribute(name, text);
};

const shown = (rule, value) => (rule.startsWith("!") ? !at(rule.slice(1), value) : Boolean(at(rule, value)));

const list = (element, values) => {
  const template = document.getElementById(element.dataset.tpl);
  while (element.children.length > values.length) element.lastElementChild.remove();
  while (element.children.length < values.length) element.append(template.content.firstElementChild.cloneNode(true));
  values.forEach((value, i) => bind(element.children[i], value));
};

export const bind = (element, scope) => {
  const marks = element.dataset;
  let value = scope;
  if (marks.with !== undefined) {
    value = at(marks.with, scope);
    element.hidden = !value;
    if (!value) return;
  }
  if (marks.show !== undefined) element.hidden = !shown(marks.show, value);
  if (marks.hide !== undefined) element.hidden = shown(marks.hide, value);
  for (const pair of (marks.attr || "").split(" ").filter(Boolean)) {
    const colon = pair.indexOf(":");
    set(element, pair.slice(colon + 1), at(pair.slice(0, colon), value));
  }
  if (marks.t !== undefined) {
    const found = at(marks.t, value);
    const text = found === null || found === undefined ? "" : String(found);
    if (element.textContent !== text) element.textContent = text;
    return;
  }
  if (marks.list !== undefined) return list(element, at(marks.list, value) || []);
  for (const child of element.children) bind(child, value);
};
