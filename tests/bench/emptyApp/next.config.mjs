/** Its own, or the framework takes the one of the folder above. */
export default { poweredByHeader: false };
