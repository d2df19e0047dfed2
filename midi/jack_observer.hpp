#pragma once

#include "midi/sound_servers.hpp"

#include <memory>

namespace landfall::midi {

/// A client that stays with a JACK server, without a part in its graph, and reads what there is
/// from the memory that the server shares. It asks the server for nothing, so that it disturbs
/// nobody and learns at once that the server has gone. One thread at a time; may block where the
/// server hangs.
class JackObserver {
public:
  JackObserver();
  ~JackObserver();
  JackObserver(const JackObserver&) = delete;
  JackObserver& operator=(const JackObserver&) = delete;

  /// As ask_jack(), but it returns only when there is an answer. `absent` is certain: the server's
  /// end was seen, or there is none that would take us.
  JackAnswer look(const std::vector<std::string>& ports);
  /// Closes the client, if it has one.
  void leave();

private:
  struct Client;

  bool open();
  bool is_alive();
  void await_period() const;

  std::unique_ptr<Client> client_;
  std::string server_; ///< Its name.
  int number_ = 1;     ///< As JackAnswer::server.
};

} // namespace landfall::midi
