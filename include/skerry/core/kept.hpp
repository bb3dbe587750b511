// What was worked out, kept for whoever asks again: many questions share a few skies and places.
// Layer: core.
#pragma once

#include <array>
#include <memory>
#include <mutex>
#include <utility>

namespace skerry {

/// The last `most` values by key, the oldest given up first. Any thread; two that miss at once both make it.
template <class Key, class Value, std::size_t most>
class Kept {
 public:
  template <class Make>
  std::shared_ptr<const Value> of(const Key& key, Make&& make) {
    {
      const std::lock_guard lock(guard_);
      for (const auto& [known, value] : all_) {
        if (value != nullptr && known == key) return value;
      }
    }
    auto made = std::make_shared<const Value>(std::forward<Make>(make)());
    const std::lock_guard lock(guard_);
    all_[next_++ % most] = {key, made};
    return made;
  }

 private:
  std::mutex guard_;
  std::array<std::pair<Key, std::shared_ptr<const Value>>, most> all_;
  std::size_t next_ = 0;
};

/// Judgement: a batch that goes through the activities of every month asks for some 60 skies in turn; one has 40 kB.
inline constexpr std::size_t most_kept = 64;

}  // namespace skerry
