import * as desk from "./desk.js";
import { suggestField } from "./suggest-field.js";

/**
 * A field for a place, with suggestions as it is typed.
 * @param {string} id
 * @param {string} label
 * @param {(place: string) => void} chosen
 */
export function placeField(id, label, chosen) {
  const find = async (/** @type {string} */ text) =>
    (await desk.suggest(text)).map(({ name, why }) => ({ name, why: why ?? "" }));
  const field = suggestField(id, label, "Places", find, chosen);
  field.group.classList.add("place");
  return field;
}
