import { element } from "./element.js";

/**
 * What is worked: casting the figure, or an operation of the treatise, under plain
 * headings; and what is to be known of it before one begins.
 * @param {HTMLElement} place
 * @param {import("./operation.js").Operation} operation
 */
export function createChooser(place, operation) {
  const select = element("select", { id: "operation" }, element("option", { value: "" }, "Casting the figure"));
  for (const heading of new Set(operation.kinds.map((kind) => kind.heading))) {
    const under = operation.kinds.filter((kind) => kind.heading === heading);
    select.append(element("optgroup", { label: heading },
      ...under.map((kind) => element("option", { value: kind.name }, kind.title))));
  }
  const about = element("p", { class: "about" });
  const weak = element("p", { class: "weak quiet" });
  place.append(
    element("div", { class: "field" }, element("label", { for: "operation" }, "What is worked"), select),
    about, weak);
  select.addEventListener("change", () => operation.choose(select.value || null));
  operation.onChosen(() => {
    const { kind } = operation;
    select.value = kind?.name ?? "";
    about.hidden = weak.hidden = kind === null;
    if (!kind) return;
    about.replaceChildren(`${kind.title}. `, element("span", { class: "more" }, source(kind)));
    weak.textContent = kind.weak;
  });
}

/**
 * Where it is taught.
 * @param {import("./answers.js").OperationAnswer} kind
 */
const source = ({ source, in_treatise }) => (in_treatise ? `Chaucer, Treatise ${source}` : source);
