package idlewright.bench.screens;

import idlewright.bench.AtTheCar;
import idlewright.bench.AtTheCar.Next;
import idlewright.bench.Bench;
import idlewright.bench.MeasurementView;
import idlewright.bench.Procedures;
import idlewright.bench.rules.NextTest;
import idlewright.intake.Act;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.Whose;
import idlewright.people.For;
import idlewright.people.Role;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** One car in the bay: what the customer said, and what to do next about each complaint. */
@Controller
@For({Role.TECHNICIAN, Role.OWNER})
class CarScreen {

    /** One complaint with what comes next: tests while the cause is sought, the same tests again after the repair. */
    record Thread(SymptomView symptom, NextTest.@Nullable Plan plan, Map<String, String> again, List<Act> acts) {}

    private final Tickets tickets;
    private final Bench bench;
    private final Procedures procedures;
    private final List<AtTheCar> atTheCar;

    CarScreen(Tickets tickets, Bench bench, Procedures procedures, List<AtTheCar> atTheCar) {
        this.atTheCar = atTheCar;
        this.tickets = tickets;
        this.bench = bench;
        this.procedures = procedures;
    }

    @GetMapping("/bay/{ticket:\\d+}")
    String car(@PathVariable int ticket, Model model) {
        TicketView view = tickets.get(new TicketNumber(ticket));
        List<MeasurementView> tests = bench.of(view.number());
        model.addAttribute("ticket", view);
        model.addAttribute("car", Car.of(view));
        List<Thread> threads = view.symptoms().stream()
                .map(symptom -> thread(view, symptom, tests))
                .toList();
        model.addAttribute("threads", threads);
        model.addAttribute("next", next(view, threads, tests));
        model.addAttribute(
                "unfinished", tests.stream().filter(test -> !test.finished()).toList());
        model.addAttribute(
                "finished", tests.stream().filter(MeasurementView::finished).toList());
        model.addAttribute("procedures", procedures.all());
        model.addAttribute(
                "atTheCar",
                atTheCar.stream().flatMap(each -> each.at(view).stream()).toList());
        return "bench/car";
    }

    private @Nullable Next next(TicketView ticket, List<Thread> threads, List<MeasurementView> tests) {
        for (MeasurementView test : tests) {
            if (!test.finished()) {
                return new Next(
                        "Go on: " + test.procedureName(),
                        "/measurements/" + test.id(),
                        "Begun and not finished, by " + test.technician() + ".");
            }
        }
        Optional<Next> begun =
                atTheCar.stream().flatMap(room -> room.next(ticket).stream()).findFirst();
        if (begun.isPresent()) {
            return begun.get();
        }
        if (ticket.move().whose() != Whose.BAY) {
            return null;
        }
        for (Thread thread : threads) {
            String at = "/bay/" + ticket.number() + "/tests/";
            String place = "?place=" + thread.symptom().place();
            if (thread.plan() != null && !thread.plan().ready().isEmpty()) {
                var test = thread.plan().ready().get(0);
                return new Next(
                        "Next test: " + test.procedure().name(),
                        at + test.procedure().key() + place,
                        test.reason() + " About " + test.procedure().minutes() + " minutes.");
            }
            for (var again : thread.again().entrySet()) {
                return new Next(
                        "Repeat: " + again.getValue(),
                        at + again.getKey() + place + "&after=true",
                        "The same test under the same conditions shows whether the repair helped.");
            }
            for (Act act : thread.acts()) {
                if (act.main()) {
                    return new Next(
                            act.label(),
                            act.url(),
                            thread.symptom().kindName() + ": " + ticket.move().what());
                }
            }
        }
        return null;
    }

    private Thread thread(TicketView ticket, SymptomView symptom, List<MeasurementView> tests) {
        boolean seeking = !symptom.ended() && !symptom.has(ThreadStamp.TRACED);
        var again = new LinkedHashMap<String, String>();
        if (symptom.has(ThreadStamp.MENDED) && !symptom.ended()) {
            tests.stream()
                    .filter(test -> !test.after() && test.places().contains(symptom.place()))
                    .filter(test -> tests.stream()
                            .noneMatch(later -> later.after()
                                    && later.procedure().equals(test.procedure())
                                    && later.places().contains(symptom.place())))
                    .forEach(test -> again.put(test.procedure(), test.procedureName()));
        }
        return new Thread(symptom, seeking ? bench.next(symptom.ref()) : null, again, acts(ticket, symptom));
    }

    private static List<Act> acts(TicketView ticket, SymptomView symptom) {
        String url = symptom.ref().url();
        var acts = new ArrayList<Act>();
        if (symptom.ended()) {
            return acts;
        }
        if (!symptom.has(ThreadStamp.TRACED)) {
            acts.add(Act.also("What could it be", url + "/causes", Role.TECHNICIAN));
            acts.add(Act.also("Decide the cause", url + "/findings/new", Role.TECHNICIAN));
        } else if (!symptom.has(ThreadStamp.MENDED)) {
            if (ticket.repairAgreed(symptom)) {
                acts.add(Act.main("Swap a part", url + "/swaps/new", Role.TECHNICIAN));
                acts.add(Act.also("Repair without a part", url + "/labour/new", Role.TECHNICIAN));
            }
        } else {
            acts.add(Act.main("Prove the repair", url + "/proof", Role.TECHNICIAN));
        }
        return acts;
    }
}
