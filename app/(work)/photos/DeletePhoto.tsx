"use client";

import { useSend } from "@/app/_client/useSend";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { deletePhoto } from "./actions";

export function DeletePhoto({
  photoKey,
  visitId,
  name,
}: {
  photoKey: string;
  visitId: string;
  name: string;
}) {
  const { send, problems } = useSend(deletePhoto);
  const { t } = useWords();
  return (
    <>
      <ProblemList problems={problems} />
      <ConfirmButton
        question={t('Delete the photo "{{name}}" of {{visit}}?', { name, visit: visitId })}
        consequence={t("It is gone for good; the log keeps who deleted it and what it showed.")}
        confirmWords={t("Delete photo")}
        onConfirm={() => send({ key: photoKey, visitId }, () => t("Photo deleted."))}
      >
        {t("Delete")}
        <span className="sr-only"> {t("photo {{name}}", { name })}</span>
      </ConfirmButton>
    </>
  );
}
