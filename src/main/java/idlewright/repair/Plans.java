package idlewright.repair;

import idlewright.billing.PlannedWork;
import idlewright.intake.TicketNumber;
import java.util.Map;
import java.util.TreeMap;
import org.springframework.stereotype.Component;

/** Tells the estimate what the findings that count say is to be done. */
@Component
class Plans implements PlannedWork {

    private final Findings findings;

    Plans(Findings findings) {
        this.findings = findings;
    }

    @Override
    public Map<Integer, String> of(TicketNumber number) {
        var planned = new TreeMap<Integer, String>();
        findings.all(number).stream()
                .filter(finding -> !finding.replaced())
                .forEach(finding -> planned.put(finding.place(), finding.correction()));
        return planned;
    }
}
