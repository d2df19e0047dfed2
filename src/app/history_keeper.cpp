#include "app/history_keeper.hpp"

#include "app/history_file.hpp"

namespace landfall::app {
namespace {

constexpr std::size_t most_waiting = 10'000; ///< Days of playing.

/// `player damaged 1.db` beside `player.db`, or the first number that is not taken.
std::filesystem::path free_name(const std::filesystem::path& file) {
  for (int number = 1;; ++number) {
    auto name = file;
    name.replace_filename(file.stem().string() + " damaged " + std::to_string(number) +
                          file.extension().string());
    std::error_code error;
    if (!std::filesystem::exists(name, error))
      return name;
  }
}

} // namespace

HistoryKeeper::HistoryKeeper(std::filesystem::path file, std::chrono::milliseconds retry)
    : file_(std::move(file)), retry_(retry), fading_(std::make_shared<const practice::Fading>()),
      history_(std::make_shared<const practice::History>()), thread_([this] { run(); }) {}

HistoryKeeper::~HistoryKeeper() {
  {
    const Lock lock(mutex_);
    stops_ = true;
  }
  changed_.notify_all();
  thread_.join();
}

void HistoryKeeper::push(practice::ChorusRecord record,
                         std::span<const ear::JudgedChange> changes) {
  {
    const Lock lock(mutex_);
    auto fading = *fading_;
    fading.learn(changes);
    fading_ = std::make_shared<const practice::Fading>(std::move(fading));
    heard_.emplace_back(changes.begin(), changes.end());
    fading_waits_ = true;
    ++pushes_;
    fresh_.push_back(record);
    fresh_.back().changes.clear();
    if (waiting_.size() < most_waiting)
      waiting_.push_back(std::move(record));
  }
  changed_.notify_all();
}

std::shared_ptr<const practice::History> HistoryKeeper::history() const {
  const Lock lock(mutex_);
  return history_;
}

std::shared_ptr<const practice::Fading> HistoryKeeper::fading() const {
  const Lock lock(mutex_);
  return fading_;
}

std::string HistoryKeeper::notice() const {
  const Lock lock(mutex_);
  return notice_.empty() ? aside_ : notice_;
}

void HistoryKeeper::settle() {
  Lock lock(mutex_);
  const auto wanted = pushes_;
  settled_.wait(lock, [&] { return rounds_ > wanted; });
}

void HistoryKeeper::failed(const std::string& reason) {
  store_.reset();
  const Lock lock(mutex_);
  notice_ = (keeps_history() ? "the history can't be written: " : "no history is kept: ") + reason;
}

/// A file that can't be read is kept under another name, so that a new one can be begun.
bool HistoryKeeper::set_aside() {
  store_.reset();
  if (!HistoryStore::is_damaged(file_))
    return false;
  const auto aside = free_name(file_);
  std::error_code error;
  std::filesystem::rename(file_, aside, error);
  if (error)
    return false;
  for (const auto* end : {"-wal", "-shm"}) // they would be taken for the new file's
    std::filesystem::rename(file_.string() + end, aside.string() + end, error);
  const Lock lock(mutex_);
  notice_.clear(); // of the file that is out of the way
  aside_ = "the history was damaged: it is kept as " + aside.filename().string() +
           ", and a new one begun";
  return true;
}

bool HistoryKeeper::open() {
  if (store_)
    return true;
  if (read_all())
    return true;
  return set_aside() && read_all();
}

/// What was kept comes before what was pushed meanwhile.
bool HistoryKeeper::read_all() {
  auto opened = HistoryStore::open(file_);
  if (!opened)
    return failed(opened.error()), false;
  store_.emplace(std::move(*opened));
  if (loaded_)
    return true;
  auto records = store_->choruses();
  auto fading = store_->fading();
  if (!records || !fading)
    return failed(records ? fading.error() : records.error()), false;
  records_.insert(records_.begin(), records->begin(), records->end());
  loaded_ = true;
  const Lock lock(mutex_);
  for (const auto& changes : std::exchange(heard_, {}))
    fading->learn(changes);
  fading_ = std::make_shared<const practice::Fading>(std::move(*fading));
  return true;
}

void HistoryKeeper::add_up(Lock& lock) {
  auto fresh = std::exchange(fresh_, {});
  if (loaded_)
    heard_.clear();
  lock.unlock();
  records_.insert(records_.end(), fresh.begin(), fresh.end());
  auto history =
      std::make_shared<const practice::History>(practice::history_of(records_, minutes_east()));
  lock.lock();
  history_ = std::move(history);
}

/// One by one, each a transaction; false if something has to wait.
bool HistoryKeeper::write_all(Lock& lock) {
  while (!waiting_.empty() || fading_waits_) {
    const bool chorus = !waiting_.empty();
    const auto record = chorus ? waiting_.front() : practice::ChorusRecord{};
    const auto fading = fading_;
    lock.unlock();
    const bool opened = open();
    const auto problem = !opened ? "" : (chorus ? store_->add(record) : store_->keep(*fading));
    if (!problem.empty())
      failed(problem);
    lock.lock();
    if (!opened || !problem.empty())
      return false;
    notice_.clear();
    if (chorus)
      waiting_.pop_front();
    else if (fading == fading_)
      fading_waits_ = false;
  }
  return true;
}

void HistoryKeeper::run() {
  open();
  for (Lock lock(mutex_);;) {
    const auto known = pushes_;
    add_up(lock);
    const bool written = write_all(lock);
    rounds_ = known + 1;
    settled_.notify_all();
    if (stops_)
      return;
    const auto wakes = [&] { return stops_ || pushes_ > known; };
    if (written)
      changed_.wait(lock, wakes);
    else
      changed_.wait_for(lock, retry_, wakes);
  }
}

} // namespace landfall::app
