#include "app/keep_looked.hpp"

#include "desk/kept_columns.hpp"

namespace wm::app {

namespace {

Result<desk::Desk> writer_now(const World& world) {
    auto setup = setup_for(world, desk::Access::Write);
    if (!setup) return tl::unexpected(setup.error());
    setup->patience_ms = 0;
    return desk::Desk::open(std::move(*setup));
}

}  // namespace

void keep_columns_of(const World& world, desk::Desk& looked) {
    const auto kept = desk::columns_are_kept(looked);
    if (!kept || *kept) return;
    if (auto writer = writer_now(world)) (void)desk::keep_columns(looked, writer->journal());
}

void keep_past_of(const World& world, const desk::PastLook& looked) {
    constexpr std::size_t worth_keeping = 16;
    if (looked.made_anew < worth_keeping) return;
    if (auto writer = writer_now(world)) (void)desk::keep_past(writer->journal(), looked.readings);
}

}  // namespace wm::app
