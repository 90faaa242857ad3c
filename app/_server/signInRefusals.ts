/** Why nobody gets in, in the words of the sign-in page; each says what to do. */
export const SIGN_IN_REFUSALS = {
  nothing: "Enter both the sign-in name and the password.",
  wrong: "Sign-in name or password is wrong. Check both; capital letters matter in the password.",
  nameRests: "Too many failed attempts with this name. Wait 15 minutes, then try again.",
  addressRests: "Too many failed attempts from this network address. Wait 15 minutes, then try again.",
  closed: "This account is closed. Ask an administrator to open it again.",
  noCode: "Enter the code that your app shows, or a backup code.",
  wrongCode: "This is not the code of this moment, nor an unused backup code. Check it and try again.",
  usedCode: "This code has been used. Wait for the next one.",
  codesRest: "Too many wrong codes. Wait 15 minutes, then try again.",
} as const;
