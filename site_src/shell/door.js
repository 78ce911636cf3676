// The one door by which HTML and workers come into a page, where the browser watches over it.

/** The folder of the scripts. */
export const folder = new URL(".", import.meta.url);

const policy = window.trustedTypes?.createPolicy("rig-guide", {
  createHTML: (text) => text, // from the engine's templates, which escape what they are given
  createScriptURL(address) {
    if (!address.startsWith(folder.href) && !address.startsWith("blob:")) throw new Error(address);
    return address;
  },
});
/** An address of the site's own that a worker may be started from; any other is an error. */
export const allowed = (address) => policy?.createScriptURL(address) ?? address;

/** The elements of HTML that the engine made, in a body of their own. */
export function parsed(html) {
  const text = policy?.createHTML(html.trim()) ?? html.trim();
  return new DOMParser().parseFromString(text, "text/html").body;
}
