// A network put together by hand, a part at a time.
#pragma once

#include "networks/network.hpp"

#include <string>
#include <utility>

namespace headroom::tests {

struct SmallNetwork {
    networks::Network network;

    networks::NodeId node(double elevation_m = 0.0) {
        network.nodes.push_back({"N" + std::to_string(network.nodes.size()), elevation_m});
        return network.nodes.size() - 1;
    }

    networks::LinkId link(networks::NodeId from, networks::NodeId to, networks::Component component,
                          double expected_c = 40.0) {
        const networks::LinkId id = network.links.size();
        network.links.push_back({"L" + std::to_string(id),
                                 from,
                                 to,
                                 std::move(component),
                                 {networks::Owner::Kind::Run, 0, networks::Side::Flow},
                                 {},
                                 expected_c});
        return id;
    }

    /// A link that sends water at a temperature; the network's source.
    networks::LinkId source(networks::NodeId back, networks::NodeId flow,
                            networks::Component component, double sent_c) {
        const networks::LinkId id = link(back, flow, std::move(component), sent_c);
        network.links[id].exchange.kind = networks::Exchange::Kind::Source;
        network.links[id].exchange.sent_c = sent_c;
        network.source = networks::SourceLinks{flow, back, id, {id}};
        return id;
    }

    networks::LinkId emitter(networks::NodeId from, networks::NodeId to,
                             networks::Component component, double indoor_c,
                             double conductance_w_k) {
        const networks::LinkId id = link(from, to, std::move(component));
        network.links[id].exchange.kind = networks::Exchange::Kind::Emitter;
        network.links[id].exchange.rest_c = indoor_c;
        network.links[id].exchange.conductance_w_k = conductance_w_k;
        return id;
    }
};

inline networks::Component plain_pipe(double length_m = 10.0, double bore_m = 0.02) {
    return networks::PipeFriction{models::make_pipe({length_m, bore_m, 7e-6})};
}

} // namespace headroom::tests
