/** The least that the framework builds: what a page of the product weighs above it is the product's own. */
export default function Layout({ children }) {
  return (
    <html lang="en">
      <body>{children}</body>
    </html>
  );
}
