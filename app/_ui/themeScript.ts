/** Where the choice of light or dark is kept in the browser. */
export const THEME_KEY = "bothends-theme";

/**
 * Runs in the head before the first paint, so that a chosen theme never flashes the other one.
 * A module of its own: the server layout needs the string, and a client module would hand it a reference.
 */
export const THEME_SCRIPT = `try{var t=localStorage.getItem("${THEME_KEY}");if(t==="light"||t==="dark")document.documentElement.dataset.theme=t}catch(e){}`;
