import type { Metadata } from "next";
import { requireRole } from "@/app/_server/session";
import { formatCount, formatNumber } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { readSetting } from "@/db/queries/settings";
import { MAX_OUTLINE_BYTES, MAX_POSITIONS, OUTLINE_KINDS, tileOrigin } from "@/lib/map";
import { OutlineForm, TileForm } from "./GroundForms";

export const metadata: Metadata = { title: "What lies under the map" };

export default async function GroundPage() {
  await requireRole("administrator");
  const db = database();
  const kept = readSetting(db, "mapOutlines");
  const tiles = readSetting(db, "mapTiles");
  const has = (kept?.outlines.length ?? 0) > 0;
  return (
    <>
      <PageHead
        title="What lies under the map"
        crumbs={[{ label: "Map", href: "/map" }]}
        lead="Sites and hops are drawn by this program alone. Outlines help to find one's way; they are kept here and need no internet."
      />
      <div className="grid max-w-3xl gap-4">
        <Panel
          title="Outlines"
          note={
            has
              ? `In use: ${kept?.label}, ${formatCount(kept?.outlines.length ?? 0, "outline")}.`
              : "None: the map is a plain sheet."
          }
          foot={`GeoJSON (RFC 7946), WGS 84, up to ${MAX_OUTLINE_BYTES / 1_000_000} MB and ${formatNumber(MAX_POSITIONS)} positions. The property "kind" says how it is drawn: ${OUTLINE_KINDS.join(", ")}. Without it areas are land, lines are borders and points are places; "name" is written at places.`}
        >
          <OutlineForm has={has} />
        </Panel>
        <Panel
          title="Pictures of the ground"
          note={
            tiles
              ? `Browsers ask ${tileOrigin(tiles.template)} for them, and no other host.`
              : "Off: no browser asks any other server for anything."
          }
          foot="Only from a server that you may use for this: its owner sees from where and for which part of the land pictures are asked. Without internet the map stands as it does without."
        >
          <TileForm template={tiles?.template} attribution={tiles?.attribution} />
        </Panel>
      </div>
    </>
  );
}
