package idlewright.bench.screens;

import idlewright.bench.rules.Catalogue;
import idlewright.bench.rules.Cause;
import idlewright.frame.NotFound;
import idlewright.people.ByKey;
import idlewright.reference.codes.CodeBook;
import idlewright.reference.codes.TroubleCode;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.util.List;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Trouble codes: from bytes to codes, and what a code means. */
@RestController
@ByKey
@RequestMapping("/api/codes")
class CodesApi {

    private final Catalogue catalogue;

    CodesApi(Catalogue catalogue) {
        this.catalogue = catalogue;
    }

    record Codes(List<Code> codes) {}

    record Code(String code, String meaning, boolean generic) {}

    /** The causes it speaks for stand by name, the likeliest first. */
    record Explained(String code, String system, boolean generic, String meaning, List<String> causes) {}

    @PostMapping("/decode")
    Codes decode(HttpServletRequest request) throws IOException {
        Sent sent = Sent.by(request);
        String bytes = sent.text("bytes");
        sent.done();
        return new Codes(Sent.refusingNonsense(() -> TroubleCode.decode(bytes)).stream()
                .map(CodeBook::explain)
                .map(entry -> new Code(entry.code(), entry.meaning(), entry.generic()))
                .toList());
    }

    @GetMapping("/{code}")
    Explained explain(@PathVariable String code) {
        var entry = CodeBook.explain(TroubleCode.find(code)
                .orElseThrow(() -> NotFound.of("trouble code “"
                        + (code.length() > 20 ? code.substring(0, 20) + "..." : code)
                        + "”: a code is a letter P, B, C or U and four digits, like P0101")));
        return new Explained(
                entry.code(),
                entry.system(),
                entry.generic(),
                entry.meaning(),
                entry.causes().stream()
                        .map(key -> catalogue.cause(key).map(Cause::name).orElse(key))
                        .toList());
    }
}
