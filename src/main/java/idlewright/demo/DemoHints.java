package idlewright.demo;

import idlewright.people.Hints;
import java.util.List;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/** Gives the demo shop's passwords and PINs away on the sign-in page. */
@Component
@Profile("demo")
class DemoHints implements Hints {

    @Override
    public List<Hint> hints() {
        return Cast.ALL.stream()
                .map(member -> new Hint(
                        member.name(),
                        member.signIn(),
                        member.password(),
                        member.pin() == null ? "" : member.pin(),
                        member.rolesInWords()))
                .toList();
    }
}
