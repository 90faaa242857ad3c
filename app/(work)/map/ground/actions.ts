"use server";

import { defineAction } from "@/app/_server/action";
import { dropOutlines, dropTiles, keepTiles } from "@/app/_server/mapGround";

const revalidate = ["/map", "/map/ground"];

export const removeOutlines = defineAction({ ...dropOutlines, revalidate });
export const setTiles = defineAction({ ...keepTiles, revalidate });
export const removeTiles = defineAction({ ...dropTiles, revalidate });
