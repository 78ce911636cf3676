// Tells a fault by its own text. Node would first print the line of Pyodide's script in which it
// was raised, a megabyte, and of that a pipe loses the end.
process.on("uncaughtException", (error) => {
  process.stderr.write(`${error?.message ?? error}\n`);
  process.exitCode = 1;
});
