#include "feed_chain.hpp"

#include <algorithm>

#include "skerry/antenna/lines.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Judgement: a coupling loop or a tap is a turn or two of thick wire: its own loss is small.
constexpr double coupling_loss_db = 0.05;

}  // namespace

double largest_untuned_swr() {
  return 4.0;
}

FedThrough through_chain(std::complex<double> feed_ohm, double mhz, const Chain& chain, bool own_match) {
  FedThrough out;
  std::complex<double> z(std::max(feed_ohm.real(), 1e-3), feed_ohm.imag());
  using In = Loss::In;
  using At = ChainStep::At;
  const auto lose = [&out](In where, double db) {
    if (db <= 0) return;
    out.losses.push_back({where, db});
    out.total_db += db;
  };
  const auto step = [&](At at, double db, double number = 0, const std::string& cable = {}) {
    out.steps.push_back({at, number, cable, z, db});
  };
  step(At::terminals, 0);
  if (own_match) {
    lose(In::transformer, coupling_loss_db);
    z = 50.0;
    step(At::own_match, coupling_loss_db);
  }
  const double ratio = chain.transformer_ratio > 0 ? chain.transformer_ratio : 1.0;
  const double transformer_db = chain.transformer_loss_db > 0 || ratio == 1
                                    ? std::max(0.0, chain.transformer_loss_db)
                                    : transformer_loss_db(ratio, mhz);
  if (ratio != 1 || transformer_db > 0) {
    lose(In::transformer, transformer_db);
    z /= ratio;
    step(At::transformer, transformer_db, ratio);
  }
  if (!chain.line.cable.empty() && chain.line.length_m > 0) {
    const Cable& cable = known_cable(chain.line.cable);
    const LineInput in = through_line(cable, mhz, chain.line.length_m, z);
    lose(In::cable, in.loss_db);
    z = in.ohm;
    step(At::cable, in.loss_db, chain.line.length_m, cable.id);
  }
  out.swr = out.line_swr = swr_of(z);
  const double reach = chain.line.tuner_max_swr.value_or(tuner_largest_swr());
  if (out.line_swr > reach) {
    out.match = Match::impossible;
  } else if (out.line_swr > largest_untuned_swr()) {
    out.match = Match::with_tuner;
  }
  if (chain.line.tuner) {
    const double db = chain.line.tuner_loss_db ? *chain.line.tuner_loss_db : tuner_loss_db(z);
    lose(In::tuner, db);
    if (out.match != Match::impossible) {
      z = 50.0;
      out.swr = 1;
    }
    step(At::tuner, db);
  }
  const double rho = (out.swr - 1.0) / (out.swr + 1.0);
  const double mismatch_db = -to_db(1.0 - rho * rho);
  if (mismatch_db > 1e-9) {
    lose(In::mismatch, mismatch_db);
    step(At::rig, mismatch_db);
  }
  if (out.match == Match::impossible) {
    out.match_why =
        Note{chain.line.tuner ? NoteKind::beyond_tuner : NoteKind::beyond_any_tuner, out.line_swr, reach};
  } else if (out.match == Match::with_tuner && !chain.line.tuner) {
    out.match_why = Note{NoteKind::needs_tuner, out.line_swr};
  }
  return out;
}

}  // namespace skerry::antenna
