export { visitWords } from "@/lib/visitIds";
