#include "record/schema.h"

#include <stdlib.h>
#include <string.h>

#include "base/text.h"

/* Version 1. Never edit a step that was released: add one.
 *
 * event has no index but its key: sittings lie close together in it, and an index would cost every append. NULL
 * stands for "none" throughout, NAN included. What a kind needs is checked in kinds.c; the CHECKs here hold
 * whatever writes the file. */
#define VERSION_1_LOG \
    "CREATE TABLE content(\n" \
    "  hash TEXT NOT NULL PRIMARY KEY CHECK (length(hash) = 32),\n" \
    "  text TEXT NOT NULL\n" \
    ") STRICT;\n" \
    "CREATE TABLE event(\n" \
    "  seq INTEGER PRIMARY KEY CHECK (seq > 0),\n" \
    "  at INTEGER NOT NULL CHECK (at BETWEEN 0 AND 253402300799),\n" \
    "  day INTEGER NOT NULL CHECK (day BETWEEN -1 AND 2932897),\n" \
    "  kind INTEGER NOT NULL CHECK (kind > 0),\n" \
    "  sitting INTEGER REFERENCES event(seq) CHECK (sitting < seq),\n" \
    "  script INTEGER REFERENCES event(seq) CHECK (script < seq),\n" \
    "  bank TEXT,\n" \
    "  part TEXT,\n" \
    "  item TEXT,\n" \
    "  detail TEXT,\n" \
    "  text TEXT,\n" \
    "  content TEXT REFERENCES content(hash),\n" \
    "  pass INTEGER NOT NULL CHECK (pass BETWEEN 0 AND 3),\n" \
    "  number REAL CHECK (abs(number) < 1e18)\n" \
    ") STRICT;\n" \
    "CREATE TABLE mark(\n" \
    "  seq INTEGER NOT NULL REFERENCES event(seq),\n" \
    "  slot INTEGER NOT NULL CHECK (slot >= 0),\n" \
    "  part TEXT NOT NULL,\n" \
    "  item TEXT NOT NULL,\n" \
    "  topic TEXT NOT NULL,\n" \
    "  objective TEXT NOT NULL,\n" \
    "  word TEXT,\n" \
    "  idea TEXT,\n" \
    "  difficulty REAL NOT NULL CHECK (abs(difficulty) < 1e3),\n" \
    "  got REAL NOT NULL CHECK (got BETWEEN 0 AND maximum),\n" \
    "  first REAL CHECK (first BETWEEN 0 AND maximum),\n" \
    "  maximum REAL NOT NULL CHECK (maximum > 0 AND maximum < 1e6),\n" \
    "  confident INTEGER NOT NULL CHECK (confident IN (0, 1)),\n" \
    "  no_response INTEGER NOT NULL CHECK (no_response IN (0, 1)),\n" \
    "  PRIMARY KEY (seq, slot)\n" \
    ") STRICT, WITHOUT ROWID;\n" \
    "CREATE INDEX event_latest ON event(bank, kind, item) WHERE kind IN (20, 23, 24);\n"

#define VERSION_1_DERIVED \
    "CREATE TABLE sitting(seq INTEGER PRIMARY KEY, opened INTEGER NOT NULL, closed INTEGER,\n" \
    "  bank TEXT NOT NULL, path TEXT, ending TEXT) STRICT;\n" \
    "CREATE TABLE bank(id TEXT NOT NULL PRIMARY KEY, last INTEGER NOT NULL, path TEXT) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE course(bank TEXT NOT NULL PRIMARY KEY, seq INTEGER NOT NULL, lines TEXT NOT NULL,\n" \
    "  content TEXT) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE setting(bank TEXT NOT NULL, name TEXT NOT NULL, seq INTEGER NOT NULL, value TEXT,\n" \
    "  PRIMARY KEY (bank, name)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE script(seq INTEGER PRIMARY KEY, state INTEGER NOT NULL, marked INTEGER,\n" \
    "  at INTEGER, predicted REAL, predicted_final REAL, predicted_maximum REAL, first REAL, final REAL,\n" \
    "  maximum REAL, moderated REAL, seconds REAL, allowed REAL,\n" \
    "  bank TEXT NOT NULL, question TEXT NOT NULL, content TEXT) STRICT;\n" \
    "CREATE TABLE script_part(script INTEGER NOT NULL, part TEXT NOT NULL, predicted REAL, seconds REAL,\n" \
    "  allowed REAL, PRIMARY KEY (script, part)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE cause(script INTEGER NOT NULL, part TEXT NOT NULL, item TEXT NOT NULL, cause TEXT,\n" \
    "  PRIMARY KEY (script, part, item)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE moderated(bank TEXT NOT NULL, script INTEGER NOT NULL, part TEXT NOT NULL, item TEXT NOT NULL,\n" \
    "  seq INTEGER NOT NULL, own REAL NOT NULL, teacher REAL NOT NULL, maximum REAL NOT NULL,\n" \
    "  PRIMARY KEY (bank, script, part, item)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE question(bank TEXT NOT NULL, question TEXT NOT NULL, last INTEGER, times INTEGER NOT NULL,\n" \
    "  variants INTEGER NOT NULL, attempted REAL, PRIMARY KEY (bank, question)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE seed(bank TEXT NOT NULL, question TEXT NOT NULL, seed TEXT NOT NULL, times INTEGER NOT NULL,\n" \
    "  PRIMARY KEY (bank, question, seed)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE tally(bank TEXT NOT NULL, heading TEXT NOT NULL, id TEXT NOT NULL, got REAL NOT NULL,\n" \
    "  maximum REAL NOT NULL, attempts INTEGER NOT NULL, last INTEGER NOT NULL,\n" \
    "  PRIMARY KEY (bank, heading, id)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE missed(bank TEXT NOT NULL, question TEXT NOT NULL, part TEXT NOT NULL, item TEXT NOT NULL,\n" \
    "  state INTEGER NOT NULL, since INTEGER NOT NULL, due INTEGER, step INTEGER, look INTEGER, success INTEGER,\n" \
    "  later INTEGER NOT NULL, gap INTEGER NOT NULL, losses INTEGER NOT NULL, lost REAL NOT NULL,\n" \
    "  topic TEXT NOT NULL, word TEXT, idea TEXT, cause TEXT, content TEXT,\n" \
    "  PRIMARY KEY (bank, question, part, item)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE effect(bank TEXT NOT NULL, kind TEXT NOT NULL, id TEXT NOT NULL, mean REAL NOT NULL,\n" \
    "  variance REAL NOT NULL, evidence REAL NOT NULL, last REAL, grown REAL, strength REAL, freshness REAL,\n" \
    "  PRIMARY KEY (bank, kind, id)) STRICT, WITHOUT ROWID;\n" \
    "CREATE TABLE learner(bank TEXT NOT NULL PRIMARY KEY, seen REAL, over_marks REAL NOT NULL,\n" \
    "  over_of REAL NOT NULL, under_marks REAL NOT NULL, under_of REAL NOT NULL, attempts REAL NOT NULL)\n" \
    "  STRICT, WITHOUT ROWID;\n"

#define VERSION_1_INDEXES \
    "CREATE INDEX sitting_open ON sitting(bank) WHERE closed IS NULL;\n"

/* Version 2: skills of a mark; days on which a tally first grew. What is derived is built anew by whoever migrates. */
#define VERSION_2_LOG "ALTER TABLE mark ADD COLUMN skills TEXT;\n"

#define VERSION_2_DERIVED \
    "DROP TABLE tally;\n" \
    "CREATE TABLE tally(bank TEXT NOT NULL, heading TEXT NOT NULL, id TEXT NOT NULL, got REAL NOT NULL,\n" \
    "  maximum REAL NOT NULL, attempts INTEGER NOT NULL, last INTEGER NOT NULL, first INTEGER, again INTEGER,\n" \
    "  PRIMARY KEY (bank, heading, id)) STRICT, WITHOUT ROWID;\n"

/* Version 3: points that share an idea. */
#define VERSION_3_DERIVED \
    "CREATE TABLE idea(bank TEXT NOT NULL, idea TEXT NOT NULL, place INTEGER NOT NULL, question TEXT NOT NULL,\n" \
    "  part TEXT NOT NULL, item TEXT NOT NULL, PRIMARY KEY (bank, idea, place)) STRICT, WITHOUT ROWID;\n"

const struct migration schema_migrations[] = {
    {{VERSION_1_LOG, VERSION_1_DERIVED, VERSION_1_INDEXES}},
    {{VERSION_2_LOG, VERSION_2_DERIVED}},
    {{VERSION_3_DERIVED}},
};
const size_t schema_version = sizeof schema_migrations / sizeof *schema_migrations;

bool schema_migrate(struct record *record, const struct migration *steps, size_t version, size_t target,
                    bool (*finish)(struct record *record))
{
    bool done = store_begin(record);
    for (size_t i = version; done && i < target; i++)
        for (int piece = 0; done && piece < MIGRATION_PIECES; piece++)
            done = !steps[i].sql[piece] || store_run(record, steps[i].sql[piece]);
    done = done && (!finish || finish(record));
    /* user_version takes no bound parameter, and is rolled back with the transaction. */
    done = done && store_print_run(record, "PRAGMA user_version = %zu", target) && store_commit(record);
    if (!done)
        store_rollback(record);
    return done;
}

/* ---- Comparison ---------------------------------------------------------------------------------- */

static const char listing[] = "SELECT name, type, tbl_name, sql FROM main.sqlite_schema ORDER BY name, type";

/* The present version in memory: the migrations are the only place where the tables are written down. */
static bool open_reference(struct record *reference)
{
    *reference = (struct record){.lock = -1};
    int code = sqlite3_open_v2(":memory:", &reference->db,
                               SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX, NULL);
    if (code != SQLITE_OK)
        return store_fault(reference, code);
    return schema_migrate(reference, schema_migrations, 0, schema_version, NULL);
}

static bool same_row(struct record *record, sqlite3_stmt *found, struct record *reference, sqlite3_stmt *wanted)
{
    for (int column = 0; column < 4; column++)
        if (!text_equal(store_text(record, found, column), store_text(reference, wanted, column)))
            return false;
    return true;
}

static bool compare_listing(struct record *record, sqlite3_stmt *found, struct record *reference,
                            sqlite3_stmt *wanted)
{
    int here, there;
    do {
        here = store_row(record, found);
        there = store_row(reference, wanted);
        if (here < 0 || there < 0)
            return store_fault(record, reference->code ? reference->code : SQLITE_CORRUPT);
        if (here == 1 && (there == 0 || !same_row(record, found, reference, wanted)))
            return store_refuse(record, "it holds '%s', which is not part of a record; put back a backup",
                                sqlite3_column_text(found, 0));
        if (here == 0 && there == 1)
            return store_refuse(record, "its table '%s' is missing; put back a backup",
                                sqlite3_column_text(wanted, 0));
    } while (here == 1);
    return true;
}

bool schema_matches(struct record *record)
{
    struct record reference;
    bool same = open_reference(&reference);
    if (!same)
        store_fault(record, reference.code);
    sqlite3_stmt *found = same ? store_prepare(record, listing) : NULL;
    sqlite3_stmt *wanted = found ? store_prepare(&reference, listing) : NULL;
    if (found && !wanted)
        store_fault(record, reference.code);
    same = wanted && compare_listing(record, found, &reference, wanted);
    sqlite3_finalize(found);
    sqlite3_finalize(wanted);
    store_close_statements(&reference);
    sqlite3_close(reference.db);
    buffer_free(&reference.fault);
    return same;
}
