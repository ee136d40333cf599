#include "handover/glossary.hpp"

namespace wm::handover {

std::vector<GlossaryTerm> standard_glossary(const language::Language& say) {
    return {
        {"close-coupled", say.text("the store sits right at the collector, with very short pipes between")},
        {"collector", say.text("the flat glazed box on the roof that turns sunshine into heat")},
        {"concession", say.text("written leave to accept one thing that does not conform")},
        {"conforms", say.text("the reading is within what is allowed, with room for the instrument's doubt")},
        {"correction", say.text("what was done to put one thing right on this job")},
        {"deferred", say.text("put off to a later day, with a date and a person who does it")},
        {"downcomer", say.text("the cooler pipe that leads down to the lower end of the collector")},
        {"expanded uncertainty", say.text("how far a reading may be off; about 95 of 100 are nearer")},
        {"head", say.text("the check sum of the last entry of a device; it fixes all entries before it")},
        {"hold point", say.text("a check that must conform before the work behind it may begin")},
        {"inconclusive", say.text("the reading is too near a limit, or the instrument too coarse, to say")},
        {"indirect", say.text("a frost-proof fluid collects the heat; drinking water never enters the collector")},
        {"mixing valve", say.text("adds cold water so that no tap runs hotter than it is set for")},
        {"nonconformity", say.text("a reading outside what is allowed, or something found not as it must be")},
        {"relief valve", say.text("opens by itself when pressure or heat grows too high")},
        {"riser", say.text("the hot pipe that leads up from the collector to the store")},
        {"store", say.text("the insulated tank that keeps the hot water")},
        {"thermosiphon", say.text("warm fluid rises and cool fluid sinks, so the loop runs without a pump")},
        {"tolerance", say.text("what is allowed, from the lowest to the highest value")},
        {"witness mark", say.text("a line of paint over nut and base that shows later whether it has turned")},
    };
}

}  // namespace wm::handover
