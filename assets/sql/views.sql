-- Read-only views over a journal, for whoever wants to count with other tools. They are temporary: the journal itself is opened
-- for reading alone and not touched (a view stored in it would be told as a change).
--
--   sqlite3 -readonly DATA/journal.db
--   sqlite> .read views.sql
--   sqlite> SELECT "check", count(*) FROM readings WHERE outcome = 'does not conform' GROUP BY "check";
--
-- What is personal is not in them: it lies locked beside the entries, and what is left of it there says nothing. Names of crews
-- ("by") are in them. Entries never change, so a figure of today is found again tomorrow; readings that were taken back stand in
-- them with taken_back = 1. What a job stands at now is told by "witnessmark job show JOB --json".

-- One row for each entry. time: UTC with a counter; body: JSON whose "kind" says what it is.
CREATE TEMP VIEW entries AS
SELECT hash AS entry, device, seq, time, job, json_extract(body, '$.kind') AS kind, body FROM entry;

-- Entries that were taken back; taking back what took something back brings it in again.
CREATE TEMP VIEW taken_back AS
WITH RECURSIVE undo(entry, target) AS (SELECT entry, json_extract(body, '$.entry') FROM entries WHERE kind = 'undone'),
     chain(entry, last, length) AS (SELECT target, entry, 1 FROM undo
                                    UNION ALL SELECT chain.entry, undo.entry, length + 1 FROM chain JOIN undo ON undo.target = chain.last)
SELECT entry FROM chain GROUP BY entry HAVING max(length) % 2 = 1;

-- One row for each job.
CREATE TEMP VIEW jobs AS
SELECT job, json_extract(body, '$.job_kind') AS kind, json_extract(body, '$.checklist') AS checklist,
       json_extract(body, '$.checklist_version') AS checklist_version, time AS opened_at
FROM entries WHERE kind = 'job-opened';

-- One row for each reading, the corrected ones included. value: as typed, with its unit, NULL where it is personal.
-- outcome: of this reading at its place, as judged then. low, high, uncertainty: numbers in `unit`, NULL where there is none.
-- corrects: the entry of the failure that this reading proves to be put right.
CREATE TEMP VIEW readings AS
SELECT entry, job, time, device, reading ->> '$.check' AS "check", coalesce(reading ->> '$.place', '') AS place,
       CASE json_type(reading, '$.text') WHEN 'text' THEN reading ->> '$.text' END AS value,
       reading ->> '$.judged.place_outcome' AS outcome, reading ->> '$.judged.rule' AS rule,
       CAST(reading ->> '$.judged.low' AS REAL) AS low, CAST(reading ->> '$.judged.high' AS REAL) AS high,
       CAST(reading ->> '$.judged.uncertainty' AS REAL) AS uncertainty, reading ->> '$.judged.unit' AS unit,
       reading ->> '$.instrument' AS instrument, reading ->> '$.by' AS "by", reading ->> '$.read_at' AS read_at, corrects,
       entry IN (SELECT entry FROM taken_back) AS taken_back
FROM (SELECT entry, job, time, device, NULL AS corrects, body AS reading FROM entries WHERE kind = 'reading-taken'
      UNION ALL
      SELECT entry, job, time, device, json_extract(body, '$.corrects'), json_extract(body, '$.reading') FROM entries
      WHERE kind = 'fault-corrected') AS taken;

-- What was put off, with the day.
CREATE TEMP VIEW deferrals AS
SELECT entry, job, time, body ->> '$.check' AS "check", body ->> '$.reason' AS reason, body ->> '$.until' AS until
FROM entries WHERE kind = 'deferred';

-- Each calibration a job was begun with.
CREATE TEMP VIEW instruments AS
SELECT job, body ->> '$.id' AS instrument, body ->> '$.type' AS type, body ->> '$.uncertainty' AS uncertainty,
       body ->> '$.calibrated_on' AS calibrated_on, body ->> '$.due' AS due
FROM entries WHERE kind = 'instrument-registered';

-- Reports and supplements that were sealed.
CREATE TEMP VIEW handovers AS
SELECT job, time, body ->> '$.outcome' AS state, body ->> '$.pdf_sha256' AS pdf_sha256 FROM entries WHERE kind = 'handed-over';
