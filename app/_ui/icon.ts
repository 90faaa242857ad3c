/** The mark of the house as a tab icon: two dishes that face each other, one line between. */
const SVG = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><rect width="32" height="32" rx="5" fill="#0f3239"/><g fill="none" stroke-linecap="round"><path d="M6 7c6 5 6 13 0 18M26 7c-6 5-6 13 0 18" stroke="#f5f0e5" stroke-width="2.8"/><path d="M13 16h6" stroke="#e9b75c" stroke-width="2.4"/></g><circle cx="12.4" cy="16" r="2.6" fill="#e9b75c"/><circle cx="19.6" cy="16" r="2.6" fill="#e9b75c"/></svg>`;

/** As an address, so that the icon needs no file and no request. */
export const ICON_URL = `data:image/svg+xml,${encodeURIComponent(SVG)}`;
