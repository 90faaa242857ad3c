import type { Metadata } from "next";
import { serverWords } from "@/app/_server/language";
import { requireRole } from "@/app/_server/session";
import { formatNumber } from "@/app/_ui/format";
import { PageHead } from "@/app/_ui/PageHead";
import { Panel } from "@/app/_ui/Panel";
import { database } from "@/db/open";
import { readSetting } from "@/db/queries/settings";
import { MAX_OUTLINE_BYTES, MAX_POSITIONS, OUTLINE_KINDS, tileOrigin } from "@/lib/map";
import { OutlineForm, TileForm } from "./GroundForms";

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await serverWords()).t("What lies under the map") };
}

export default async function GroundPage() {
  const { t, locale } = await serverWords();
  await requireRole("administrator");
  const db = database();
  const kept = readSetting(db, "mapOutlines");
  const tiles = readSetting(db, "mapTiles");
  const has = (kept?.outlines.length ?? 0) > 0;
  return (
    <>
      <PageHead
        title={t("What lies under the map")}
        crumbs={[{ label: t("Map"), href: "/map" }]}
        lead={t(
          "Sites and hops are drawn by this program alone. Outlines help to find one's way; they are kept here and need no internet.",
        )}
      />
      <div className="grid max-w-3xl gap-4">
        <Panel
          title={t("Outlines")}
          note={
            has
              ? t("In use: {{label}}, {{count}} outlines.", {
                  label: kept?.label ?? "",
                  count: kept?.outlines.length ?? 0,
                })
              : t("None: the map is a plain sheet.")
          }
          foot={t(
            'GeoJSON (RFC 7946), WGS 84, up to {{size}} MB and {{positions}} positions. The property "kind" says how it is drawn: {{kinds}}. Without it areas are land, lines are borders and points are places; "name" is written at places.',
            {
              size: MAX_OUTLINE_BYTES / 1_000_000,
              positions: formatNumber(MAX_POSITIONS, 0, locale),
              kinds: OUTLINE_KINDS.join(", "),
            },
          )}
        >
          <OutlineForm has={has} />
        </Panel>
        <Panel
          title={t("Pictures of the ground")}
          note={
            tiles
              ? t("Browsers ask {{host}} for them, and no other host.", { host: tileOrigin(tiles.template) })
              : t("Off: no browser asks any other server for anything.")
          }
          foot={t(
            "Only from a server that you may use for this: its owner sees from where and for which part of the land pictures are asked. Without internet the map stands as it does without.",
          )}
        >
          <TileForm template={tiles?.template} attribution={tiles?.attribution} />
        </Panel>
      </div>
    </>
  );
}
