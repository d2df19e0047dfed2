#include "app/history_store.hpp"

/// The store of a build without SQLite.
namespace landfall::app {
namespace {

constexpr const char* reason = "built without SQLite";

} // namespace

bool keeps_history() {
  return false;
}

void HistoryStore::Close::operator()(sqlite3*) const {}

Result<HistoryStore, std::string> HistoryStore::open(const std::filesystem::path&) {
  return std::string(reason);
}

std::string HistoryStore::add(const practice::ChorusRecord&) {
  return reason;
}

std::string HistoryStore::keep(const practice::Fading&) {
  return reason;
}

Result<std::vector<practice::ChorusRecord>, std::string> HistoryStore::choruses() const {
  return std::string(reason);
}

Result<std::vector<practice::KeptChange>, std::string> HistoryStore::changes(std::size_t) const {
  return std::string(reason);
}

Result<practice::Fading, std::string> HistoryStore::fading() const {
  return std::string(reason);
}

bool HistoryStore::is_damaged(const std::filesystem::path&) {
  return false;
}

std::string HistoryStore::check() const {
  return reason;
}

} // namespace landfall::app
