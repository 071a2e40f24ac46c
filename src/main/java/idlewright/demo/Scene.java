package idlewright.demo;

import idlewright.bench.Bench;
import idlewright.bench.Bench.Read;
import idlewright.bench.Instruments;
import idlewright.bench.Logs;
import idlewright.bench.VehicleLimits;
import idlewright.bench.rules.InstrumentKind;
import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.Credits;
import idlewright.billing.DayCloses;
import idlewright.billing.Estimates;
import idlewright.billing.Invoices;
import idlewright.billing.Offers;
import idlewright.billing.Payments;
import idlewright.billing.Rates;
import idlewright.billing.WorkRates;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.Total;
import idlewright.demo.Trial.Take;
import idlewright.intake.Customers;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.journal.Exhibits;
import idlewright.journal.Marks;
import idlewright.people.ApiKeys;
import idlewright.people.People;
import idlewright.people.Shops;
import idlewright.proof.AnswerLinks;
import idlewright.proof.FollowUps;
import idlewright.proof.Proofs;
import idlewright.reference.money.Money;
import idlewright.repair.Clocks;
import idlewright.repair.Findings;
import idlewright.repair.Labours;
import idlewright.repair.Swaps;
import idlewright.warranty.Claims;
import idlewright.warranty.Cores;
import idlewright.warranty.Dossiers;
import idlewright.warranty.EmissionTerms;
import idlewright.warranty.PartTerms;
import idlewright.warranty.Terms;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/** The front doors as the demo maker finds them, and what it has to remember by name. */
@Component
@Profile("demo")
record Scene(
        People people,
        Shops shops,
        ApiKeys keys,
        Customers customers,
        Vehicles vehicles,
        Tickets tickets,
        Exhibits exhibits,
        Marks marks,
        Bench bench,
        Instruments instruments,
        VehicleLimits limits,
        Logs logs,
        Rates rates,
        WorkRates workRates,
        Estimates estimates,
        Offers offers,
        Authorisations authorisations,
        Charges charges,
        Invoices invoices,
        Payments payments,
        Credits credits,
        DayCloses dayCloses,
        Findings findings,
        Swaps swaps,
        Labours labours,
        Clocks clocks,
        Proofs proofs,
        FollowUps followUps,
        AnswerLinks answerLinks,
        Terms terms,
        Dossiers dossiers,
        Claims claims,
        PartTerms partTerms,
        EmissionTerms emissionTerms,
        Cores cores,
        Memory memory) {

    /** Names of the script to numbers of the database; what is new since the last mark is kept with the next one. */
    @Component
    @Profile("demo")
    static class Memory {

        private final Map<String, Long> known = new HashMap<>();
        private final Map<String, Long> fresh = new LinkedHashMap<>();

        void learn(Map<String, Long> earlier) {
            known.putAll(earlier);
        }

        Map<String, Long> takeFresh() {
            var taken = new LinkedHashMap<>(fresh);
            fresh.clear();
            return taken;
        }
    }

    void remember(String name, long number) {
        memory.known.put(name, number);
        memory.fresh.put(name, number);
    }

    long number(String name) {
        Long number = memory.known.get(name);
        if (number == null) {
            throw new IllegalStateException("The demo script asks for " + name + " before it is made");
        }
        return number;
    }

    TicketNumber ticket(String story) {
        return new TicketNumber((int) number(story));
    }

    Money money(String amount) {
        return Money.of(amount, rates.currency().getCurrencyCode());
    }

    /** What lines cost the customer, with tax. */
    Money gross(List<Line> lines) {
        return Total.of(lines, rates.taxes(), rates.currency()).gross();
    }

    /** Does a test from start to end. */
    long perform(TicketNumber ticket, List<Integer> places, boolean after, Trial trial) {
        long test = begin(ticket, places, after, trial);
        bench.finish(test);
        return test;
    }

    /** Does a test and leaves it open, as when somebody is called away. */
    long begin(TicketNumber ticket, List<Integer> places, boolean after, Trial trial) {
        long test = bench.start(
                ticket, trial.procedure(), after, places, trial.conditions(), instrument(trial.procedure()));
        for (Take take : trial.takes()) {
            bench.keep(test, new Read(take.point(), take.spot(), take.typed(), take.unit(), false, null));
        }
        return test;
    }

    private @Nullable Long instrument(String procedure) {
        List<InstrumentKind> kinds = bench.procedure(procedure).instruments();
        return kinds.isEmpty() ? null : memory.known.get(kinds.get(0).name());
    }
}
