/** The fields of the detail form, which are the same on every page: what stands before and after what
 * is assumed there. See site_src/build/fields.py. */
import { parsed } from "./door.js";

const FIELDS = {/* words */};

const PICTURES = /@\.\.\//g;

/** Puts the fields into a page that was drawn without them. */
export function putFields(form, root) {
  const places = [...form.querySelectorAll("[data-rig-put]")];
  const html = places.map((place) => {
    const [before, after] = FIELDS[place.id.slice("rig-".length)];
    const assumed = place.innerHTML.replaceAll('"', "&quot;");
    return `${before}${assumed}${after}`.replaceAll(PICTURES, `${root}/`);
  });
  const fields = [...parsed(html.join("")).children];
  places.forEach((place, at) => place.replaceWith(fields[at]));
}
