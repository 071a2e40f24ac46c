package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Visit;
import java.io.ByteArrayInputStream;
import java.math.BigDecimal;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.flavours.PDFAFlavour;

@SpringBootTest
@WithDatabase
@DisplayName("An estimate on paper")
class EstimatePaperTest {

    @Autowired
    private Tickets tickets;

    @Autowired
    private Customers customers;

    @Autowired
    private Vehicles vehicles;

    @Autowired
    private Estimates estimates;

    @Autowired
    private People people;

    @Test
    void saysWhatIsOfferedAndPassesTheStandardsByTheJudgementOfVeraPdf() throws Exception {
        byte[] pdf = estimate();
        try (var document = Loader.loadPDF(pdf)) {
            assertThat(new PDFTextStripper().getText(document))
                    .contains("Estimate 2", "Grand Row Bakery", "86,940 km", "old parts go back to the customer")
                    .contains(
                            "the starter drags",
                            "Core charge: Old starter",
                            "Discount on parts: Autumn offer",
                            "-19.00")
                    .contains("Added: Discount on parts", "I agree to the work and parts named here", "211.00 USD");
        }
        VeraGreenfieldFoundryProvider.initialise();
        for (var standard : List.of(PDFAFlavour.PDFA_3_U, PDFAFlavour.PDFUA_1)) {
            try (var parser = Foundries.defaultInstance().createParser(new ByteArrayInputStream(pdf), standard);
                    var judge = Foundries.defaultInstance().createValidator(standard, false)) {
                var verdict = judge.validate(parser);
                assertThat(verdict.isCompliant())
                        .as(() -> standard + ": "
                                + verdict.getTestAssertions().stream()
                                        .map(Object::toString)
                                        .limit(5)
                                        .toList())
                        .isTrue();
            }
        }
    }

    private byte[] estimate() {
        String unique = UUID.randomUUID().toString().substring(0, 8);
        var wren = people.hire("Wren " + unique, "wren-" + unique, "a quiet copper kettle", null, Set.of(Role.WRITER));
        return people.as(wren, () -> {
            var bakery = customers.add(
                    new Customers.Telling("Grand Row Bakery", "555 0142", null, "4 Grand Row", "PHONE", null));
            var van = vehicles.add(bakery.id(), Visit.VAN);
            var number = tickets.open(
                    new Tickets.Opening(van.id(), new BigDecimal("86940"), null, null, "GIVE_BACK", "YES"));
            tickets.hear(number, "hesitation", "It cranks slowly.");
            tickets.stamp(new SymptomRef(number, 1), ThreadStamp.TRACED, "the starter drags");
            var starter = line(LineKind.PART, "Starter", "190.00");
            var core = line(LineKind.CORE, "Old starter", "40.00");
            estimates.offer(
                    estimates.write(number, List.of(starter, core), null).id(), "by phone");
            var second = estimates.write(
                    number, List.of(starter, core, line(LineKind.DISCOUNT_PARTS, "Autumn offer", "19.00")), "Two days");
            return estimates.pdf(second.id());
        });
    }

    private static Line line(LineKind kind, String what, String price) {
        return Line.typed(1, kind, what, BigDecimal.ONE, Money.of(price, "USD"), null);
    }
}
