package idlewright.demo;

import idlewright.demo.Cast.Member;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Consumer;

/** All that happens in the demo shop, in the order of time; the same for the same first start. */
final class Script {

    /** What one person does at one moment. */
    record Step(Instant at, Member who, Consumer<Scene> act) {}

    private final List<Step> steps = new ArrayList<>();

    void at(Instant moment, Member who, Consumer<Scene> act) {
        steps.add(new Step(moment, who, act));
    }

    List<Step> inOrder() {
        return steps.stream().sorted(Comparator.comparing(Step::at)).toList();
    }
}
