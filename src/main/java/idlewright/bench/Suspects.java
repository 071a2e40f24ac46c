package idlewright.bench;

import idlewright.bench.Readout.Told;
import idlewright.bench.rules.Catalogue;
import idlewright.bench.rules.Cause;
import idlewright.bench.rules.Causes;
import idlewright.bench.rules.Evidence;
import idlewright.bench.rules.Heard;
import idlewright.bench.rules.InstrumentKind;
import idlewright.bench.rules.Learned;
import idlewright.bench.rules.Need;
import idlewright.bench.rules.NextTest;
import idlewright.bench.rules.NextTest.AtHand;
import idlewright.bench.rules.Ranking;
import idlewright.frame.ReadOnce;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.springframework.stereotype.Component;

/** Ranks the causes of a thread and names the next test, always anew from what is known. */
@Component
class Suspects {

    private record TestsOf(TicketNumber ticket) {}

    private record LearnedFor(TicketNumber ticket) {}

    private final MeasurementReads reads;
    private final Readout readout;
    private final Catalogue catalogue;
    private final ReadOnce once;

    Suspects(MeasurementReads reads, Readout readout, Catalogue catalogue, ReadOnce once) {
        this.reads = reads;
        this.readout = readout;
        this.catalogue = catalogue;
        this.once = once;
    }

    Ranking rank(TicketView ticket, SymptomRef ref) {
        return rank(ticket, ref, tests(ticket));
    }

    Ranking rank(TicketView ticket, SymptomRef ref, List<Told> tests) {
        SymptomView symptom = ticket.symptom(ref.place());
        return new Causes(catalogue)
                .rank(
                        symptom.kind(),
                        evidence(symptom, tests),
                        learned(ticket).getOrDefault(symptom.kind(), Learned.nothing()),
                        Cars.facts(ticket.vehicle()));
    }

    NextTest.Plan plan(TicketView ticket, SymptomRef ref) {
        List<Told> tests = tests(ticket);
        SymptomView symptom = ticket.symptom(ref.place());
        Ranking ranking = rank(ticket, ref, tests);
        Set<String> done = tests.stream()
                .filter(told -> !told.row().after() && told.row().bearsOn(ref))
                .map(told -> told.row().procedure())
                .collect(Collectors.toSet());
        return new NextTest(catalogue)
                .plan(ranking, evidence(symptom, tests), done, atHand(ticket, symptom), Cars.facts(ticket.vehicle()));
    }

    List<Told> tests(TicketView ticket) {
        return once.of(new TestsOf(ticket.number()), () -> readout.tell(reads.sheet(ticket)));
    }

    private List<Evidence> evidence(SymptomView symptom, List<Told> tests) {
        var answers = new HashMap<String, String>();
        symptom.answers().forEach(answer -> answers.put(answer.question(), answer.answer()));
        var evidence = new ArrayList<>(catalogue.asked(Heard.answers(answers), symptom.heardAt()));
        for (Told told : tests) {
            if (!told.row().after() && told.row().bearsOn(symptom.ref()) && told.result() != null) {
                evidence.addAll(told.result().evidence(told.taken()));
            }
        }
        return evidence;
    }

    /** By kind of symptom, what was found on threads that were then proved: the finding is the note of its stamp. */
    private Map<String, Learned> learned(TicketView ticket) {
        return once.of(new LearnedFor(ticket.number()), () -> readLearned(ticket));
    }

    private Map<String, Learned> readLearned(TicketView ticket) {
        Map<String, String> byWords = new HashMap<>();
        for (Cause cause : catalogue.causes()) {
            byWords.put(cause.name(), cause.key());
            byWords.put(cause.plainWords(), cause.key());
            cause.formerly().forEach(name -> byWords.put(name, cause.key()));
        }
        var counts = new HashMap<String, Map<String, Integer>>();
        reads.sheet(ticket).found().forEach(found -> {
            String key = byWords.get(found.note());
            if (key != null) {
                counts.computeIfAbsent(found.kind(), kind -> new HashMap<>()).merge(key, found.times(), Integer::sum);
            }
        });
        var learned = new HashMap<String, Learned>();
        counts.forEach((kind, found) -> learned.put(kind, new Learned(found)));
        return learned;
    }

    /** A shop that has listed no instrument yet is taken to have them all. */
    private AtHand atHand(TicketView ticket, SymptomView symptom) {
        Set<InstrumentKind> kinds = reads.sheet(ticket).instruments();
        var needs = EnumSet.allOf(Need.class);
        if (ticket.roadTest().equals("NO")) {
            needs.remove(Need.ROAD);
        }
        if (symptom.kind().equals("cranks-no-start")) {
            needs.remove(Need.ENGINE_RUNS);
        }
        return new AtHand(kinds.isEmpty() ? EnumSet.allOf(InstrumentKind.class) : kinds, needs);
    }
}
