/** RFC 6238, appendix B: codes of 8 digits for the key "12345678901234567890" with HMAC-SHA-1. Mark: M. */
export const TOTP_KEY = "12345678901234567890";

export const TOTP_VECTORS: readonly { unixS: number; code: string }[] = [
  { unixS: 59, code: "94287082" },
  { unixS: 1111111109, code: "07081804" },
  { unixS: 1111111111, code: "14050471" },
  { unixS: 1234567890, code: "89005924" },
  { unixS: 2000000000, code: "69279037" },
  { unixS: 20000000000, code: "65353130" },
];
