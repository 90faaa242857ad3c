import { describe, expect, it } from "vitest";
import {
  cleanJpeg,
  crc32,
  missingPhotos,
  PHOTO_MOST_BYTES,
  PHOTO_SIDE_PX,
  PHOTO_SUBJECTS,
  scaledSize,
  takePhoto,
} from "@/lib/photos";
import { jpegOf, POSITION } from "../../helpers/jpeg";

const text = (bytes: Uint8Array) => Buffer.from(bytes).toString("latin1");

describe("cleanJpeg", () => {
  it("reads the size and keeps what draws the picture", () => {
    const clean = cleanJpeg(jpegOf({ widthPx: 1600, heightPx: 1200 }));
    expect(clean.ok && [clean.value.widthPx, clean.value.heightPx]).toEqual([1600, 1200]);
    expect(clean.ok && text(clean.value.bytes)).toContain("JFIF");
    expect(clean.ok && text(clean.value.bytes)).toContain("ICC_PROFILE");
    expect(clean.ok && text(clean.value.bytes)).toContain("the data");
  });

  it("takes out position, device, comments and what hangs behind the picture", () => {
    const dirty = jpegOf({ behind: "<script>" });
    expect(text(dirty)).toContain(POSITION);
    const clean = cleanJpeg(dirty);
    const kept = clean.ok ? text(clean.value.bytes) : POSITION;
    for (const gone of [POSITION, "Exif", "Photoshop", "a comment", "<script>"])
      expect(kept).not.toContain(gone);
    expect(kept.endsWith("\xff\xd9")).toBe(true);
  });

  it("gives back a clean picture byte by byte", () => {
    const once = cleanJpeg(jpegOf());
    const twice = once.ok ? cleanJpeg(once.value.bytes) : once;
    expect(twice).toEqual(once);
  });

  it.each([
    ["nothing", new Uint8Array(), /does not begin/],
    ["another kind of picture", Uint8Array.from([0x89, 0x50, 0x4e, 0x47]), /does not begin/],
    ["a page", Buffer.from("<html>"), /does not begin/],
    ["one that ends in its head", jpegOf().subarray(0, 40), /breaks off before/],
    ["one that ends in its data", jpegOf({ hasEnd: false }), /breaks off in its data/],
    ["one without a size", jpegOf({ hasFrame: false }), /does not say how large/],
    ["one of no width", jpegOf({ widthPx: 0 }), /does not say how large/],
  ])("refuses %s", (_, bytes, message) => {
    const clean = cleanJpeg(bytes);
    expect(!clean.ok && clean.problems[0]?.message).toMatch(message);
  });
});

describe("takePhoto", () => {
  it("refuses what is too large in bytes or pixels", () => {
    const rule = (bytes: Uint8Array) => {
      const taken = takePhoto(bytes);
      return taken.ok ? "taken" : taken.problems[0]?.rule;
    };
    expect(rule(new Uint8Array(PHOTO_MOST_BYTES + 1))).toBe("photo-too-large");
    expect(rule(jpegOf({ widthPx: 5000, heightPx: 100 }))).toBe("photo-too-wide");
    expect(rule(jpegOf())).toBe("taken");
  });
});

describe("scaledSize", () => {
  it("brings the longer side to the limit and keeps the shape; small ones stay", () => {
    expect(scaledSize(4000, 3000)).toEqual({ widthPx: PHOTO_SIDE_PX, heightPx: 1200 });
    expect(scaledSize(3000, 4000)).toEqual({ widthPx: 1200, heightPx: PHOTO_SIDE_PX });
    expect(scaledSize(800, 600)).toEqual({ widthPx: 800, heightPx: 600 });
    expect(scaledSize(20_000, 2)).toEqual({ widthPx: PHOTO_SIDE_PX, heightPx: 1 });
  });
});

describe("missingPhotos", () => {
  it("names what is wanted of the kind of visit and not there", () => {
    expect(missingPhotos("install", ["label"]).map((s) => s.id)).toEqual([
      "earthing",
      "weatherproofing",
      "antenna bearing",
    ]);
    expect(missingPhotos("acceptance", ["meter"])).toEqual([]);
  });
  it("leaves no kind of visit without a wish", () => {
    for (const kind of ["install", "alignment", "acceptance", "revisit"] as const)
      expect(
        PHOTO_SUBJECTS.some((s) => s.kinds.includes(kind)),
        kind,
      ).toBe(true);
  });
});

describe("crc32", () => {
  it("gives the published check value of CRC-32/ISO-HDLC (catalogue of parametrised CRC algorithms, M)", () => {
    expect(crc32(Buffer.from("123456789"))).toBe("cbf43926");
    expect(crc32(new Uint8Array())).toBe("00000000");
  });
});
