export default function Page() {
  return <main>An empty page.</main>;
}
