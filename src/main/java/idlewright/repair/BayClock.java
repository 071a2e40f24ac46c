package idlewright.repair;

import idlewright.bench.AtTheCar;
import idlewright.billing.WorkRates;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.repair.Clocks.Span;
import idlewright.repair.rules.Clocking;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** The clock on the bay's pages: the one that runs, and the buttons that start one at this car. */
@Component
class BayClock implements AtTheCar {

    /**
     * What the bay sees of the clock.
     *
     * @param mine the clock of mine that runs, wherever
     * @param here whether it runs at this car
     * @param threads what a clock can be started on
     * @param spent what was clocked on this car by everybody, in hours and minutes; null where nothing was
     */
    record Face(
            @Nullable Span mine,
            boolean here,
            @Nullable TicketView ticket,
            List<SymptomView> threads,
            List<String> kinds,
            @Nullable String spent) {}

    private final Clocks clocks;
    private final WorkRates workRates;
    private final People people;

    BayClock(Clocks clocks, WorkRates workRates, People people) {
        this.clocks = clocks;
        this.workRates = workRates;
        this.people = people;
    }

    @Override
    public Optional<Shown> at(@Nullable TicketView ticket) {
        Person me = people.me();
        if (ticket == null) {
            return me.is(Role.TECHNICIAN)
                    ? clocks.mine().map(mine -> shown(new Face(mine, false, null, List.of(), List.of(), null)))
                    : Optional.empty();
        }
        List<SymptomView> threads = me.is(Role.TECHNICIAN) && !ticket.has(TicketStamp.BILLED)
                ? ticket.symptoms().stream().filter(symptom -> !symptom.ended()).toList()
                : List.of();
        List<Span> read = clocks.ofAndMine(ticket.number());
        List<Span> all = read.stream()
                .filter(span -> span.thread().ticket().equals(ticket.number()))
                .toList();
        Span mine = read.stream()
                .filter(span -> span.running() && span.personId() == me.id())
                .findFirst()
                .orElse(null);
        if (mine == null && threads.isEmpty() && all.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(shown(new Face(
                mine,
                mine != null && mine.thread().ticket().equals(ticket.number()),
                ticket,
                threads,
                threads.isEmpty()
                        ? List.of()
                        : workRates.card().kinds().stream()
                                .map(WorkRates.Kind::name)
                                .toList(),
                all.isEmpty()
                        ? null
                        : Clocking.words(all.stream().mapToLong(Span::seconds).sum()))));
    }

    private static Shown shown(Face face) {
        return new Shown("repair/knots :: clock", face);
    }
}
