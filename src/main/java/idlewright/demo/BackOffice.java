package idlewright.demo;

import static idlewright.demo.Cast.ODILE;
import static idlewright.demo.Cast.WREN;

import idlewright.intake.TicketNumber;
import idlewright.repair.SwapView;
import idlewright.warranty.rules.ClaimStep;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.LocalTime;
import org.jspecify.annotations.Nullable;

/** What the owner of the demo shop does of an evening: claims in every state, and a question about an emission part. */
final class BackOffice {

    private final Script script;
    private final Days days;

    private BackOffice(Script script, Days days) {
        this.script = script;
        this.days = days;
    }

    static void into(Script script, Days days) {
        var office = new BackOffice(script, days);
        office.claimed("v59", 80, "Air-flow sensor that read low out of the box", "167.28");
        office.happened("v59", 79, ClaimStep.SENT, null, "by e-mail, with both readings");
        office.happened("v59", 60, ClaimStep.GRANTED, "150.00", "they keep a handling fee of 17.28");
        office.happened("v59", 55, ClaimStep.PAID, "132.72", "credit note; the handling fee twice, asked them again");
        office.claimed("v66", 27, "Crank sensor, second of the same lot", "61.40");
        office.happened("v66", 26, ClaimStep.SENT, null, "on their own form");
        office.happened("v66", 9, ClaimStep.GRANTED, "61.40", "with the next statement");
        office.claimed("v62", 4, "Ignition coil, cracked at the boot", "48.60");
        office.claimed("v33", 270, "Plugs with a gap too wide from the box", "18.90");
        office.happened("v33", 269, ClaimStep.SENT, null, "by phone, to their counter");
        office.happened("v33", 240, ClaimStep.REFUSED, null, "no receipt for the box");
        office.happened("v33", 239, ClaimStep.DROPPED, null, "not worth a second letter");
        script.at(days.at(days.ago(6), LocalTime.of(17, 5)), WREN, office::firstInUse);
    }

    private void claimed(String visit, int ago, String about, String amount) {
        script.at(at(ago, 10), ODILE, scene -> {
            TicketNumber ticket = scene.ticket(visit);
            SwapView swap = scene.swaps().of(ticket).get(0);
            scene.claims().make(ticket, 1, swap.fitted().supplier(), about, scene.money(amount), null, swap.id());
        });
    }

    private void happened(String visit, int ago, ClaimStep kind, @Nullable String amount, String note) {
        script.at(at(ago, 20), ODILE, scene -> {
            long claim = scene.claims().of(scene.ticket(visit)).get(0).id();
            scene.claims().step(claim, kind, amount == null ? null : scene.money(amount), note);
        });
    }

    private void firstInUse(Scene scene) {
        long vehicle = scene.number("TB 29 MRC");
        var car = scene.vehicles().get(vehicle);
        LocalDate began = LocalDate.of(car.modelYear() == null ? 2018 : car.modelYear(), 3, 14);
        scene.emissionTerms().keep(vehicle, began, new BigDecimal("98400"), "warranty booklet in the glove box");
    }

    private java.time.Instant at(int ago, int minute) {
        return days.at(days.ago(ago), LocalTime.of(17, minute));
    }
}
