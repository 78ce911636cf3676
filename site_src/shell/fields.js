/** The fields of the detail form, which are the same on every page: what stands before and after what
 * is assumed there. See site_src/build/fields.py. */
const FIELDS = {/* words */};

const PICTURES = /@\.\.\//g;

/** Puts the fields into a page that was drawn without them; `parsed` makes elements of HTML. */
export function putFields(form, root, parsed) {
  for (const place of form.querySelectorAll("[data-rig-put]")) {
    const [before, after] = FIELDS[place.dataset.rigPut];
    const assumed = place.innerHTML.replaceAll('"', "&quot;");
    const html = `${before}${assumed}${after}`.replaceAll(PICTURES, `${root}/`);
    place.replaceWith(parsed(html).firstElementChild);
  }
}
