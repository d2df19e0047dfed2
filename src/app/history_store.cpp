#include "app/history_store.hpp"

#include "app/history_statement.hpp"

#include <array>

namespace landfall::app {
namespace {

using practice::ChorusRecord;
using practice::KeptChange;

/// From each version to the next; the version is how many have been applied.
constexpr std::array migrations{
    "CREATE TABLE chorus(id INTEGER PRIMARY KEY, at INTEGER NOT NULL, key TEXT NOT NULL,"
    " place TEXT NOT NULL, note_set TEXT NOT NULL, over TEXT NOT NULL, song TEXT NOT NULL,"
    " micros_per_quarter INTEGER NOT NULL, target TEXT NOT NULL, seconds REAL NOT NULL,"
    " changes INTEGER NOT NULL, landed INTEGER NOT NULL, late INTEGER NOT NULL,"
    " off INTEGER NOT NULL, rest INTEGER NOT NULL, own_words INTEGER NOT NULL,"
    " deviation_mean_ms REAL, deviation_sd_ms REAL);"
    "CREATE TABLE change(chorus INTEGER NOT NULL REFERENCES chorus(id), bar INTEGER NOT NULL,"
    " beat REAL NOT NULL, chord TEXT NOT NULL, verdict TEXT NOT NULL, degree TEXT,"
    " own_word INTEGER NOT NULL);"
    "CREATE INDEX change_of_chorus ON change(chorus);",
    "CREATE TABLE light(chord TEXT NOT NULL, degree TEXT NOT NULL, choruses INTEGER NOT NULL,"
    " PRIMARY KEY(chord, degree)) WITHOUT ROWID;",
};

constexpr std::array verdicts{"landed", "late", "off", "rest"};

ear::Verdict verdict_of(const std::string& word) {
  for (std::size_t i = 0; i < verdicts.size(); ++i)
    if (word == verdicts[i])
      return static_cast<ear::Verdict>(i);
  return ear::Verdict::rest;
}

std::string run(sqlite3* database, const char* sql) {
  return sqlite3_exec(database, sql, nullptr, nullptr, nullptr) == SQLITE_OK ? ""
                                                                             : problem_of(database);
}

/// Runs `body` as one transaction; what fails leaves nothing behind.
template <typename Body> std::string transaction(sqlite3* database, Body body) {
  if (auto problem = run(database, "BEGIN IMMEDIATE"); !problem.empty())
    return problem;
  auto problem = body() ? run(database, "COMMIT") : problem_of(database);
  if (!problem.empty())
    run(database, "ROLLBACK");
  return problem;
}

std::string migrate(sqlite3* database) {
  Statement version(database, "PRAGMA user_version");
  if (!version.step())
    return problem_of(database);
  auto done = static_cast<std::size_t>(version.number(0));
  version.run();
  if (done > migrations.size())
    return "is of a newer program";
  for (; done < migrations.size(); ++done) {
    const auto sql =
        std::string(migrations[done]) + "PRAGMA user_version = " + std::to_string(done + 1) + ";";
    if (auto problem = transaction(database, [&] { return run(database, sql.c_str()).empty(); });
        !problem.empty())
      return problem;
  }
  return "";
}

void bind(Statement& insert, const ChorusRecord& record) {
  const auto& sums = record.summary;
  insert.add(std::int64_t{record.when.time_since_epoch().count()})
      .add(ascii(record.cell.key))
      .add(record.cell.place)
      .add(record.cell.set)
      .add(std::string(record.over == theory::Over::key ? "key" : "chord"))
      .add(record.song)
      .add(record.tempo.micros_per_quarter)
      .add(record.target)
      .add(record.length.count())
      .add(sums.changes)
      .add(sums.landed)
      .add(sums.late)
      .add(sums.off)
      .add(sums.rest)
      .add(record.own_words)
      .add(sums.deviation_mean_ms)
      .add(sums.deviation_sd_ms);
}

bool insert_changes(sqlite3* database, const ChorusRecord& record) {
  const auto chorus = sqlite3_last_insert_rowid(database);
  Statement insert(database, "INSERT INTO change VALUES(?,?,?,?,?,?,?)");
  for (const auto& change : record.changes) {
    const auto degree =
        change.degree ? std::optional(ascii(*change.degree)) : std::optional<std::string>();
    insert.add(std::int64_t{chorus})
        .add(change.bar)
        .add(change.beat)
        .add(change.chord)
        .add(std::string(verdicts[static_cast<std::size_t>(change.verdict)]))
        .add(degree)
        .add(change.own_word ? 1 : 0);
    if (!insert.run())
      return false;
  }
  return !insert.failed();
}

ChorusRecord record_of(const Statement& row) {
  ChorusRecord record;
  record.when = practice::Instant{std::chrono::seconds{row.number(1)}};
  if (const auto key = theory::parse_key(row.text(2)))
    record.cell.key = *key;
  record.cell.place = row.text(3);
  record.cell.set = row.text(4);
  record.over = row.text(5) == "key" ? theory::Over::key : theory::Over::chord;
  record.song = row.text(6);
  record.tempo = Tempo{row.number(7)};
  record.target = row.text(8);
  record.length = practice::Seconds{row.real(9)};
  auto& sums = record.summary;
  sums.changes = row.small(10);
  sums.landed = row.small(11);
  sums.late = row.small(12);
  sums.off = row.small(13);
  sums.rest = row.small(14);
  record.own_words = row.small(15);
  sums.deviation_mean_ms = row.optional_real(16);
  sums.deviation_sd_ms = row.optional_real(17);
  return record;
}

/// Landings by degree, into the records, whose rows have the ids.
bool read_degrees(sqlite3* database, std::map<std::int64_t, ChorusRecord*>& by_id) {
  Statement rows(database, "SELECT chorus, degree, verdict, count(*) FROM change"
                           " WHERE degree IS NOT NULL GROUP BY chorus, degree, verdict");
  while (rows.step()) {
    const auto record = by_id.find(rows.number(0));
    const auto degree = theory::parse_degree(rows.text(1));
    if (record == by_id.end() || !degree)
      continue;
    auto& count = record->second->summary.by_degree[folded(*degree).number];
    (verdict_of(rows.text(2)) == ear::Verdict::landed ? count.landed : count.late) += rows.small(3);
  }
  return !rows.failed();
}

} // namespace

bool keeps_history() {
  return true;
}

void HistoryStore::Close::operator()(sqlite3* database) const {
  sqlite3_close_v2(database);
}

Result<HistoryStore, std::string> HistoryStore::open(const std::filesystem::path& file) {
  std::error_code error;
  if (file.has_parent_path())
    std::filesystem::create_directories(file.parent_path(), error);
  sqlite3* made = nullptr;
  const int code =
      sqlite3_open_v2(file.c_str(), &made,
                      SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX, nullptr);
  HistoryStore store(made);
  if (made == nullptr)
    return std::string("out of memory");
  if (code != SQLITE_OK)
    return problem_of(made);
  sqlite3_busy_timeout(made, 2000);
  if (auto problem = run(made, "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;");
      !problem.empty())
    return problem;
  if (auto problem = migrate(made); !problem.empty())
    return problem;
  return store;
}

bool HistoryStore::is_damaged(const std::filesystem::path& file) {
  sqlite3* opened = nullptr;
  const int code =
      sqlite3_open_v2(file.c_str(), &opened, SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX, nullptr);
  const HistoryStore store(opened);
  if (opened == nullptr || code != SQLITE_OK)
    return false;
  Statement check(opened, "PRAGMA quick_check(1)");
  const bool says = check.step();
  const int found = sqlite3_errcode(opened);
  return found == SQLITE_NOTADB || found == SQLITE_CORRUPT || (says && check.text(0) != "ok");
}

std::string HistoryStore::add(const ChorusRecord& record) {
  auto* const database = database_.get();
  return transaction(database, [&] {
    Statement insert(database, "INSERT INTO chorus VALUES(NULL,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)");
    bind(insert, record);
    return insert.run() && insert_changes(database, record);
  });
}

std::string HistoryStore::keep(const practice::Fading& fading) {
  auto* const database = database_.get();
  return transaction(database, [&] {
    if (!run(database, "DELETE FROM light").empty())
      return false;
    Statement insert(database, "INSERT INTO light VALUES(?,?,?)");
    for (const auto& [light, choruses] : fading.lights())
      if (!insert.add(light.chord).add(ascii(light.degree)).add(choruses).run())
        return false;
    return !insert.failed();
  });
}

Result<std::vector<ChorusRecord>, std::string> HistoryStore::choruses() const {
  std::vector<ChorusRecord> records;
  std::vector<std::int64_t> ids;
  Statement rows(database_.get(), "SELECT * FROM chorus ORDER BY at, id");
  while (rows.step()) {
    ids.push_back(rows.number(0));
    records.push_back(record_of(rows));
  }
  std::map<std::int64_t, ChorusRecord*> by_id;
  for (std::size_t i = 0; i < ids.size(); ++i)
    by_id[ids[i]] = &records[i];
  if (rows.failed() || !read_degrees(database_.get(), by_id))
    return problem_of(database_.get());
  return records;
}

Result<std::vector<KeptChange>, std::string> HistoryStore::changes(std::size_t chorus) const {
  std::vector<KeptChange> changes;
  Statement rows(database_.get(),
                 "SELECT bar, beat, chord, verdict, degree, own_word FROM change WHERE chorus ="
                 " (SELECT id FROM chorus ORDER BY at, id LIMIT 1 OFFSET ?) ORDER BY rowid");
  rows.add(static_cast<std::int64_t>(chorus));
  while (rows.step()) {
    KeptChange change{rows.small(0), rows.real(1),      rows.text(2), verdict_of(rows.text(3)),
                      std::nullopt,  rows.small(5) != 0};
    if (const auto degree = theory::parse_degree(rows.text(4)))
      change.degree = *degree;
    changes.push_back(std::move(change));
  }
  if (rows.failed())
    return problem_of(database_.get());
  return changes;
}

Result<practice::Fading, std::string> HistoryStore::fading() const {
  std::map<practice::Fading::Light, int> lights;
  Statement rows(database_.get(), "SELECT chord, degree, choruses FROM light");
  while (rows.step())
    if (const auto degree = theory::parse_degree(rows.text(1)))
      lights[{rows.text(0), *degree}] = rows.small(2);
  if (rows.failed())
    return problem_of(database_.get());
  return practice::Fading::from(std::move(lights));
}

std::string HistoryStore::check() const {
  Statement rows(database_.get(), "PRAGMA integrity_check");
  if (!rows.step())
    return problem_of(database_.get());
  return rows.text(0) == "ok" ? "" : rows.text(0);
}

} // namespace landfall::app
