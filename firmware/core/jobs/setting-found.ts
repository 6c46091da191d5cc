/** A test on paper was read: the setting that it is about, if there is one, is so now, and the strip is next. */
import { Finding, Job, SettingName } from '../generated/constants';
import { logTestResult } from '../log/entries';
import { changeSetting } from '../settings/settings';
import { Unkept } from '../state/keeping';
import { keeping, situation } from '../state/state';

export function takeSetting(name: SettingName, what: Finding, value: i32, nowUs: i64): void {
  changeSetting(name, value);
  keeping.waiting |= Unkept.Settings;
  takeFinding(what, value, nowUs);
}

export function takeFinding(what: Finding, value: i32, nowUs: i64): void {
  logTestResult(what, value, nowUs);
  situation.job = Job.Strip;
}
