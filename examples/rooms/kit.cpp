// May a battery fly, and how long does it last?
#include <fmt/format.h>

#include "skerry/kit/energy.hpp"
#include "skerry/kit/rules.hpp"

int main() {
  using namespace skerry;
  kit::Battery battery;
  battery.item.name = "150 Wh power bank";
  battery.volts = 15;
  battery.amp_hours = 10;
  battery.usb_outlet = true;
  const bool cabin_only = kit::judge(battery).place == kit::Place::cabin_only;
  fmt::print("{}: {}\n", battery.item.name, cabin_only ? "cabin only" : "anywhere, or nowhere");
  const auto cw = noise::find_mode("cw", {});
  const kit::Rig rig;
  fmt::print("{:.1f} h of {} with a 5 W rig\n",
             kit::hours_on(battery, kit::mean_current_a(rig, *cw, battery.volts)), cw->id);
}
