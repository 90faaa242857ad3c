import { homeZone, onProgrammeClock } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { seesHop } from "@/app/_server/regions";
import type { Visitor } from "@/app/_server/session";
import { formatInstant } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import type { Db } from "@/db/open";
import type { StoredPhoto } from "@/db/queries/photos";
import { photoSubjectName } from "@/lib/photos";
import { DeletePhoto } from "./DeletePhoto";

interface PhotoGridProps {
  db: Db;
  visitor: Visitor;
  photos: readonly StoredPhoto[];
  /** When there is none; left out: no panel then. */
  empty?: string;
}

/** Photos from the field; a press on one downloads it. */
export async function PhotoGrid({ db, visitor, photos, empty }: PhotoGridProps) {
  const { t, locale } = await serverWords();
  const zone = homeZone(db);
  const seen = photos.filter((p) => seesHop(db, visitor, p.hopCode));
  if (seen.length === 0 && empty === undefined) return null;
  const mayDelete = visitor.role === "manager" || visitor.role === "administrator";
  return (
    <Panel
      title={seen.length > 0 ? `${t("Photos")}: ${seen.length}` : t("Photos")}
      note={seen.length > 0 ? t("Press a photo to download it.") : undefined}
    >
      {seen.length === 0 ? <p>{empty}</p> : null}
      <ul className="ui-photos" aria-label={t("{{count}} photos", { count: seen.length })}>
        {seen.map((photo) => {
          const name = t(photoSubjectName(photo.subject));
          const when = formatInstant(onProgrammeClock(photo.takenAt, db), zone, locale);
          const address = `/api/photos/${photo.key}`;
          return (
            <li key={photo.key}>
              <a href={address} download>
                {/* biome-ignore lint/performance/noImgElement: behind a session, and as small as the phone made it */}
                <img
                  src={address}
                  alt={`${name}, ${photo.visitId}`}
                  width={photo.widthPx}
                  height={photo.heightPx}
                  loading="lazy"
                />
              </a>
              <span>{name}</span>
              <span className="text-quiet">
                {photo.visitId}, {when}, {photo.sentBy}
              </span>
              {mayDelete ? <DeletePhoto photoKey={photo.key} visitId={photo.visitId} name={name} /> : null}
            </li>
          );
        })}
      </ul>
    </Panel>
  );
}
