/**
 * How to load the add-in into Excel, for each place where Excel runs, and what to do when that does not work. After
 * Microsoft's pages "Sideload Office Add-ins on Windows from a network share", "… on Mac for testing", "… to Office on
 * the web", "Clear the Office cache", "We can't open this add-in from localhost", and the notes of Chrome and Edge on
 * Local Network Access; as of August 2026.
 */
import { CLEARING } from "../../src/taskpane/clearCache";

export interface Where {
  /** Full path of the manifest to load. */
  readonly manifest: string;
  /** Full path of the certificate to trust. */
  readonly authority: string;
  /** Address of the page, to try in a browser. */
  readonly page: string;
}

/** Beside the name of a platform. */
const ALONG = " ".repeat(11);

/** A text in lines of 120 characters at most, those after the first moved in. */
function folded(text: string, indent: string): string {
  const lines = [""];
  for (const word of text.split(" ")) {
    const last = lines.at(-1) ?? "";
    if (last !== "" && indent.length + last.length + 1 + word.length > 120) lines.push(word);
    else lines[lines.length - 1] = last === "" ? word : `${last} ${word}`;
  }
  return lines.join(`\n${indent}`);
}

export function excelSteps({ manifest, authority, page }: Where): string {
  return `
The manifest:     ${manifest}
The certificate:  ${authority}

Once: trust the certificate
  Windows  certutil -user -addstore Root "${authority}"
           Say Yes when Windows asks.
  Mac      security add-trusted-cert -r trustRoot -k ~/Library/Keychains/login.keychain-db "${authority}"
  Then open ${page} in the browser: it should show a line about the pane, and no warning.
  To take the trust back: certutil -user -delstore Root "Developer CA for Microsoft Office Add-ins", or delete that
  certificate in Keychain Access.

Excel on Windows
  1. Make a folder for add-ins, copy the manifest into it, share the folder with yourself (Properties, Sharing, Share,
     Read/Write) and note its network path (\\\\…).
  2. In Excel: File, Options, Trust Center, Trust Center Settings, Trusted Add-in Catalogs. Enter the network path as
     Catalog Url, choose Add catalog, tick Show in Menu, OK, OK. Close Excel and open it again.
  3. Home, Add-ins, Advanced: choose SHARED FOLDER at the top, Bendbook, Add.

Excel on a Mac
  1. mkdir -p ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef
  2. cp "${manifest}" ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef/
  3. Open Excel again and a workbook. Home, Add-ins: choose Bendbook in the menu.

Excel on the web, in a browser on this machine
  1. Open a workbook at office.com.
  2. Home, Add-ins, More Settings, Upload My Add-in, Browse: choose
     ${manifest}
     and Upload.
  3. Where the browser asks whether the page may reach devices or apps of this machine or network, allow it. The browser
     forgets the manifest when its data are cleared, and another browser does not have it: upload it again.

Then type =BANK.BEND(0.875) in a cell, or choose Bendbook on the Home tab.

If the pane stays empty or says that it cannot open from localhost
  - Is the certificate trusted? ${page} in the browser shows it.
  - Windows, where Excel still uses the older Edge WebView (EdgeHTML): it must be let reach this machine, once, from a
    command prompt that runs as administrator:
      npx office-addin-dev-settings appcontainer EdgeWebView --loopback --yes
    WebView2, which any newer Excel uses, needs nothing.
  - Chrome or Edge from version 142 on: choose the sign beside the address, allow Local network access, open the
    workbook anew. Where Excel on the web offers no such leave, give the add-in an address of its own:
      npm run excel -- --origin https://… --out DIR

If Excel shows an old version, old arguments or a removed add-in: clear its cache, all of it
  Windows  ${folded(CLEARING.PC, ALONG)}
           Or with Office closed: npx office-addin-cache clear
           Or delete what is in %LOCALAPPDATA%\\Microsoft\\Office\\16.0\\Wef\\ and, where it is there, in
           %userprofile%\\AppData\\Local\\Packages\\Microsoft.Win32WebViewHost_cw5n1h2txyewy\\AC\\#!123\\INetCache\\
  Mac      ${folded(CLEARING.Mac, ALONG)}
           Or with Excel closed: npx office-addin-cache clear
           Or delete what is in ~/Library/Containers/com.Microsoft.OsfWebHost/Data/ and in
           ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef/, which removes every add-in that was put there:
           begin again with step 2. Where the first folder is not there, delete what is in
           ~/Library/Containers/com.microsoft.Excel/Data/Library/Caches/ and in
           ~/Library/Containers/com.microsoft.Excel/Data/Library/Application Support/Microsoft/Office/16.0/Wef/
  the web  ${folded(CLEARING.OfficeOnline, ALONG)}

Leave this window open while you work; Ctrl-C ends it.
`;
}
