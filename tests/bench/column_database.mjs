// The plain GROUP BY of a column database that lies in memory: the same rows, one thread as ours and then all it likes.
//   column_database.mjs ROWS SECONDS     prints JSON: threads -> median in ns
import { DuckDBInstance } from "@duckdb/node-api";

const [, , rows, seconds] = process.argv;
const instance = await DuckDBInstance.create(":memory:");
const connection = await instance.connect();
await connection.run(
  `create table r as select * from read_csv('${rows}', delim='\t', header=false, columns={'week':'INTEGER','chk':'INTEGER','crew':'INTEGER','failed':'INTEGER'})`);
const told = {};
for (const threads of [1, 2]) {
  await connection.run(`set threads = ${threads}`);
  const times = [];
  const end = performance.now() + 1000 * Number(seconds);
  while (times.length < 5 || performance.now() < end) {
    const before = performance.now();
    const answer = await connection.run("select chk, crew, count(*), sum(failed) from r group by chk, crew");
    await answer.fetchAllChunks();
    times.push((performance.now() - before) * 1e6);
  }
  times.sort((a, b) => a - b);
  told[threads] = times[Math.floor(times.length / 2)];
}
console.log(JSON.stringify(told));
