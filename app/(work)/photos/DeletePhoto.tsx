"use client";

import { useSend } from "@/app/_client/useSend";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
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
  return (
    <>
      <ProblemList problems={problems} />
      <ConfirmButton
        question={`Delete the photo "${name}" of ${visitId}?`}
        consequence="It is gone for good; the log keeps who deleted it and what it showed."
        confirmWords="Delete photo"
        onConfirm={() => send({ key: photoKey, visitId }, () => "Photo deleted.")}
      >
        Delete<span className="sr-only"> photo {name}</span>
      </ConfirmButton>
    </>
  );
}
