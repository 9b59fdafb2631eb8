export function NotHere() {
  return (
    <>
      <h1>Nothing here</h1>
      <p>
        There is no page at this address. <a href="/">Back to the sites.</a>
      </p>
    </>
  );
}
