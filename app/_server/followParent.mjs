/** Preloaded into the web server: when the supervisor is killed outright, its child goes too and frees the port. */
const parent = process.ppid;
setInterval(() => {
  if (process.ppid !== parent) process.exit(1);
}, 1000).unref();
